using System.Text.Json;
using SetupAudit.Evidence;
using SetupAudit.Records;

namespace SetupAudit.Store.Records;

/// <summary>What the store itself says in the record.</summary>
internal static class StoreWords
{
    public static RecordWord Of(Arrival arrival) => new(RecordKind.Arrival, Said.Of(json =>
    {
        json.WriteString("arrival", arrival.Id);
        json.WriteString("machine", arrival.Machine);
        json.WriteString("file", arrival.File);
        json.WriteString("sha256", arrival.Sha256);
        json.WriteNumber("bytes", arrival.SizeBytes);
        json.WriteString("modified", UtcText.Of(arrival.ModifiedUtc));
        json.WriteString("received", UtcText.Of(arrival.ReceivedUtc));
        if (arrival.Refused is { } refused) json.WriteString("refused", refused);
    }));

    /// <summary>A finding that was raised, changed, withdrawn or raised again.</summary>
    public static RecordWord Of(string machine, DerivedChange change, string because) => new(RecordKind.Finding,
        Said.Of(json =>
        {
            json.WriteString("step", change.Step switch
            {
                DerivedStep.Raised => "raised",
                DerivedStep.RaisedAgain => "raised-again",
                DerivedStep.Withdrawn => "withdrawn",
                _ => "changed",
            });
            json.WriteString("finding", change.Id);
            json.WriteString("machine", machine);
            if (change.Step == DerivedStep.Withdrawn) json.WriteString("because", because);
            if (change.Body is not { } body) return;
            json.WritePropertyName("body");
            json.WriteRawValue(body);
        }));

    public static RecordWord Of(StartRecord start) => new(RecordKind.Start, Said.Of(json =>
    {
        json.WriteString("command", start.Command);
        json.WriteString("program", start.ProgramVersion);
        json.WriteString("configuration", start.ConfigurationSha256);
    }));

    public static RecordWord Changed(StartRecord? before, StartRecord now) => new(RecordKind.Configuration,
        Said.Of(json =>
        {
            Write(json, "before", before?.ConfigurationSha256);
            Write(json, "after", now.ConfigurationSha256);
            json.WriteNumber("bytes", now.Configuration.Length);
        }));

    public static RecordWord Stopped(string command) =>
        new(RecordKind.Stop, Said.Of(json => json.WriteString("command", command)));

    private static void Write(Utf8JsonWriter json, string name, string? text)
    {
        if (text is null) json.WriteNull(name);
        else json.WriteString(name, text);
    }
}
