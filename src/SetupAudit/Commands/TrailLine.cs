using System.Text.Json;
using SetupAudit.Records;
using SetupAudit.Shapes;
using SetupAudit.Store;
using SetupAudit.Store.Retention;

namespace SetupAudit.Commands;

/// <summary>One entry of the record about something that a person did.</summary>
/// <param name="Tried">Whose password was tried; null where nothing was tried, or a name that nobody has.</param>
internal sealed record TrailLine(RecordBody Entry, JsonElement Said, string? Tried) : IShape
{
    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.WriteNumber("number", Entry.Number);
        json.WriteString("at", Word.Of(Entry.AtUtc));
        json.WriteString("kind", RecordBody.NameOf(Entry.Kind));
        json.WriteString("by", Text("by") ?? Text("account"));
        json.WriteBoolean("signed", (Text("byPerson") ?? Text("signature")) is not null);
        json.WriteString("machine", Text("machine"));
        json.WriteString("setup", Text("setup"));
        json.WriteString("what", What());
        json.WritePropertyName("said");
        json.WriteRawValue(Entry.Said);
        json.WriteEndObject();
    }

    private string What() => Entry.Kind switch
    {
        RecordKind.Begin => "the record was begun",
        RecordKind.Review => $"{Text("verdict")}: {Text("reason")}{Cause()}",
        RecordKind.Person => $"{Text("name")}, {Text("role")}, {Text("state")}: {Text("why")}",
        // A name that nobody has is not kept: people type passwords into it.
        RecordKind.SignIn => Tried is null
            ? $"a name that nobody has, and a password, for {Text("purpose")}"
            : $"{Tried}'s name and password for {Text("purpose")}: {Text("outcome")}",
        RecordKind.Configuration => $"the configuration is now {Text("after")}",
        RecordKind.Start => $"'{Text("command")}' started, program version {Text("program")}",
        RecordKind.Stop => $"'{Text("command")}' ended",
        RecordKind.Alert => $"{Text("step")} until {Text("until") ?? "-"}: {Text("reason")}",
        RecordKind.Export => $"a bundle of {Text("setup")} was made",
        RecordKind.Key => $"another key signs from here on: {Text("reason")}",
        RecordKind.Keeping => Kept(),
        _ => RecordBody.NameOf(Entry.Kind),
    };

    private string Kept() => Text("did") switch
    {
        "copied" => $"a copy was made in {Text("to")}",
        "restored" => $"the copy in {Text("from")} was put back",
        "pruned" => $"{PruneWords.Were(Number("files"))} dropped, from before {Before()}: {Text("reason")}",
        "begun-anew" => $"the record {Text("former")} was set aside and this one begun: {Text("reason")}",
        _ => RecordBody.NameOf(Entry.Kind),
    };

    private string Cause() => Text("cause") is { } cause ? $" (cause: {cause})" : "";

    // To the second, where it is kept to a tick.
    private string Before() =>
        UtcText.ReadNullable(Text("before")) is { } moment ? Word.Of(moment) : "an unknown moment";

    private long Number(string name) => Said.TryGetProperty(name, out var number) ? number.GetInt64() : 0;

    private string? Text(string name) => TrailList.Text(Said, name);
}
