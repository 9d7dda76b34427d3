using System.Globalization;
using SetupAudit.Evidence;

namespace SetupAudit.Readings;

/// <summary>What the head of a document says of the agent's numbering.</summary>
internal sealed record StreamHeader
{
    public required int Line { get; init; }

    public required int Column { get; init; }

    public ulong? Instance { get; init; }

    /// <summary>The oldest observation that the agent still keeps.</summary>
    public ulong? First { get; init; }

    public ulong? Last { get; init; }

    /// <summary>The first observation that the document does not hold any more.</summary>
    public ulong? Next { get; init; }

    public DateTimeOffset? CreatedUtc { get; init; }

    /// <summary>What is missing, without which lost observations cannot be seen.</summary>
    public Fault? Fault => Instance is null || First is null || Next is null
        ? new Fault(Line, Column, "the Header does not say instanceId, firstSequence and nextSequence: whether "
            + "observations were lost cannot be seen")
        : null;

    public static StreamHeader Read(StreamXml xml) => new()
    {
        Line = xml.Line,
        Column = xml.Column,
        Instance = Number(xml.Attribute("instanceId")),
        First = Number(xml.Attribute("firstSequence")),
        Last = Number(xml.Attribute("lastSequence")),
        Next = Number(xml.Attribute("nextSequence")),
        CreatedUtc = StreamTime.TryRead(xml.Attribute("creationTime"), out var utc) ? utc : null,
    };

    public static ulong? Number(string? text) =>
        ulong.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;
}
