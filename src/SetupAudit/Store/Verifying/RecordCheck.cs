namespace SetupAudit.Store.Verifying;

/// <summary>What verifying a record came to.</summary>
public sealed record RecordCheck
{
    /// <summary>The record's name; null where it could not be read.</summary>
    public string? Origin { get; init; }

    /// <summary>The key that signs now, as it is written down; null where none could be read.</summary>
    public string? Key { get; init; }

    /// <summary>Whether the key was given by the person who asked, and not only by the record itself.</summary>
    public bool KeyWasGiven { get; init; }

    /// <summary>How many entries there are.</summary>
    public long Entries { get; init; }

    /// <summary>So many entries, from the first on, are as they were signed, with the rows that they seal.</summary>
    public long VerifiedTo { get; init; }

    public IReadOnlyList<AnchorState> Anchors { get; init; } = [];

    /// <summary>The time stamps beside the record and off this computer, where there are any that hold.</summary>
    public IReadOnlyList<StampState> Stamps { get; init; } = [];

    /// <summary>How many rows were compared with the digests that entries hold of them.</summary>
    public long Rows { get; init; }

    /// <summary>How many checkpoints hold.</summary>
    public long Checkpoints { get; init; }

    /// <summary>How many files of evidence were hashed again; null where that was left out.</summary>
    public long? Evidence { get; init; }

    /// <summary>A service writes the store just now, so that its newest entries may not be anchored yet.</summary>
    public bool IsWritten { get; init; }

    /// <summary>The faults, the one nearest to the beginning of the record first; at most a hundred.</summary>
    public IReadOnlyList<RecordFault> Faults { get; init; } = [];

    /// <summary>How many there are, with those that are not listed.</summary>
    public long FaultCount { get; init; }

    /// <summary>What is worth knowing and no fault.</summary>
    public IReadOnlyList<string> Remarks { get; init; } = [];

    public bool Holds => FaultCount == 0;

    /// <summary>How many entries are anchored in every place that is kept.</summary>
    public long AnchoredAt => Anchors.Count == 0 ? 0 : Anchors.Min(anchor => anchor.Size);
}
