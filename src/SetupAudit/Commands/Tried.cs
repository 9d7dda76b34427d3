using System.Text.Json;
using SetupAudit.Evidence;
using SetupAudit.Readings;
using SetupAudit.Shapes;
using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>How one file was read.</summary>
internal sealed record Tried : IShape
{
    public required string File { get; init; }

    public required string Machine { get; init; }

    public required WatchConfig Watch { get; init; }

    public required Moment Moment { get; init; }

    public required IReadOnlyList<TriedLine> Lines { get; init; }

    /// <summary>Where it is a program: all that was read of it.</summary>
    public ProgramView? Program { get; init; }

    public required IReadOnlyList<Fault> Faults { get; init; }

    public ArrivalStatus Status => Faults.Count == 0 ? ArrivalStatus.Read
        : Lines.Count > 0 ? ArrivalStatus.Partial
        : ArrivalStatus.Unreadable;

    public string WatchSays => $"as the watched folder {Coverage.SourceName(Watch)} says";

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.WriteString("file", File);
        json.WriteString("machine", Machine);
        json.WriteString("read", TryCommand.NameOf(Watch.Read));
        json.WriteString("watch", Coverage.SourceName(Watch));
        json.WriteString("moment", Word.Of(Moment.AtUtc));
        json.WriteString("momentFrom", Word.Of(Moment.From));
        json.WriteString("momentReason", Moment.Reason);
        json.WriteString("status", Word.Of(Status));
        json.WriteStartArray("readings");
        foreach (var line in Lines) line.Write(json);
        json.WriteEndArray();
        json.WritePropertyName("program");
        if (Program is null) json.WriteNullValue();
        else Program.Write(json);
        json.WriteStartArray("faults");
        foreach (var fault in Faults) Write(json, fault);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, Fault fault)
    {
        json.WriteStartObject();
        json.WriteNumber("line", fault.Line);
        json.WriteNumber("column", fault.Column);
        json.WriteString("reason", fault.Reason);
        json.WriteEndObject();
    }
}
