using SetupAudit.Store.Verifying;

namespace SetupAudit.Store.Bundles;

/// <summary>What checking a bundle came to.</summary>
public sealed record BundleCheck
{
    /// <summary>The setup that it is about; null where that could not be read.</summary>
    public string? Setup { get; init; }

    /// <summary>The record that it comes from.</summary>
    public string? Origin { get; init; }

    /// <summary>When the program says that it was made.</summary>
    public string? MadeUtc { get; init; }

    /// <summary>The key that signed its checkpoint.</summary>
    public string? Key { get; init; }

    public bool KeyWasGiven { get; init; }

    /// <summary>How many entries the checkpoint covers.</summary>
    public long Size { get; init; }

    /// <summary>How many entries are in it, each proved to be in the record.</summary>
    public long Entries { get; init; }

    /// <summary>How many of them seal rows that are in it.</summary>
    public long SealedRows { get; init; }

    public long Evidence { get; init; }

    /// <summary>The sizes of earlier checkpoints in it that its own is proved to go on from.</summary>
    public IReadOnlyList<long> Earlier { get; init; } = [];

    /// <summary>The time stamps in it, each over one of those.</summary>
    public IReadOnlyList<StampState> Stamps { get; init; } = [];

    /// <summary>
    /// How many sealed rows hold that the setup's JSON does not show so; null where it was not compared.
    /// </summary>
    public long? NotShown { get; init; }

    /// <summary>The record says that this bundle was made, by the SHA-256 of its list: it is whole.</summary>
    public bool IsRecorded { get; init; }

    public IReadOnlyList<RecordFault> Faults { get; init; } = [];

    public long FaultCount { get; init; }

    /// <summary>What is worth knowing and no fault.</summary>
    public IReadOnlyList<string> Remarks { get; init; } = [];

    public bool Holds => FaultCount == 0;
}
