using System.Text.Json;
using SetupAudit.Evidence;

namespace SetupAudit.Shapes;

/// <summary>An arrival as it comes back (contract section 5, <c>arrival</c>).</summary>
public sealed record ArrivalView : IShape<ArrivalView>
{
    public required string Arrival { get; init; }

    /// <summary>Null for a setup sheet, which no machine owns.</summary>
    public string? Machine { get; init; }

    public required string File { get; init; }

    public required string Sha256 { get; init; }

    public required long SizeBytes { get; init; }

    public required DateTimeOffset ModifiedUtc { get; init; }

    /// <summary>The moment the contents speak of.</summary>
    public required DateTimeOffset MomentUtc { get; init; }

    public required DateTimeOffset ReceivedUtc { get; init; }

    public required ArrivalStatus Status { get; init; }

    /// <summary>What could not be read, in a sentence; null where all was read.</summary>
    public string? Reason { get; init; }

    /// <summary>Where; null where all was read, or where the file as a whole is meant.</summary>
    public int? Line { get; init; }

    public int? Column { get; init; }

    /// <summary>The view of an arrival and its first fault.</summary>
    public static ArrivalView Of(Arrival arrival, ArrivalStatus status, Fault? fault) => new()
    {
        Arrival = arrival.Id,
        Machine = arrival.Machine.Length == 0 ? null : arrival.Machine,
        File = arrival.File,
        Sha256 = arrival.Sha256,
        SizeBytes = arrival.SizeBytes,
        ModifiedUtc = arrival.ModifiedUtc,
        MomentUtc = arrival.MomentUtc,
        ReceivedUtc = arrival.ReceivedUtc,
        Status = status,
        Reason = fault?.Reason ?? arrival.Refused,
        Line = fault is { Line: > 0 } ? fault.Line : null,
        Column = fault is { Column: > 0 } ? fault.Column : null,
    };

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.Text("arrival", Arrival);
        json.Text("machine", Machine);
        json.Text("file", File);
        json.Text("sha256", Sha256);
        json.Number("bytes", SizeBytes);
        json.Time("modified", ModifiedUtc);
        json.Time("moment", MomentUtc);
        json.Time("received", ReceivedUtc);
        json.Text("status", Word.Of(Status));
        json.Text("reason", Reason);
        json.Number("line", Line);
        json.Number("column", Column);
        json.WriteEndObject();
    }

    public static ArrivalView Read(JsonElement body) => new()
    {
        Arrival = body.TextOf("arrival"),
        Machine = body.Text("machine"),
        File = body.TextOf("file"),
        Sha256 = body.TextOf("sha256"),
        SizeBytes = body.GetProperty("bytes").GetInt64(),
        ModifiedUtc = body.TimeOf("modified"),
        MomentUtc = body.TimeOf("moment"),
        ReceivedUtc = body.TimeOf("received"),
        Status = body.ChoiceOf<ArrivalStatus>("status"),
        Reason = body.Text("reason"),
        Line = body.Whole("line"),
        Column = body.Whole("column"),
    };
}
