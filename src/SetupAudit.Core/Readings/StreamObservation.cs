using System.Globalization;

namespace SetupAudit.Readings;

/// <summary>One observation of an agent that tells something of set-ups.</summary>
public sealed record StreamObservation
{
    public required int Line { get; init; }

    public required int Column { get; init; }

    /// <summary>Its number, unique within one life of the agent.</summary>
    public required ulong Sequence { get; init; }

    /// <summary>The id of what was observed.</summary>
    public required string Item { get; init; }

    public required StreamMeaning Means { get; init; }

    /// <summary>Program, word of execution or mode, or a fault's text; UNAVAILABLE as the agent writes it.</summary>
    public string? Text { get; init; }

    /// <summary>A fault's native code.</summary>
    public string? Code { get; init; }

    /// <summary>What a fault's code is configured to be, such as surface-not-found.</summary>
    public string? Kind { get; init; }

    public int? Count { get; init; }

    public IReadOnlyList<OffsetReading> Offsets { get; init; } = [];

    public bool IsUnavailable => Text == "UNAVAILABLE";

    /// <summary>
    /// What it tells, named so that the same in another document has the same names: whole data sets and the parts of
    /// them that changed are sent under one number.
    /// </summary>
    public IEnumerable<string> Names(ulong instance) => Means == StreamMeaning.Offsets
        ? Offsets.Select(reading => Name(instance, reading.Key.Code))
        : [Name(instance, -1 - (int)Means)];

    /// <summary>Without what was told already; null where nothing is left.</summary>
    public StreamObservation? Without(ulong instance, IReadOnlySet<string> told)
    {
        if (Means != StreamMeaning.Offsets) return told.Contains(Name(instance, -1 - (int)Means)) ? null : this;
        var left = Offsets.Where(reading => !told.Contains(Name(instance, reading.Key.Code))).ToList();
        return left.Count == 0 ? null : left.Count == Offsets.Count ? this : this with { Offsets = left };
    }

    private string Name(ulong instance, int what) =>
        string.Create(CultureInfo.InvariantCulture, $"{instance}/{Sequence}/{Item}/{what}");
}
