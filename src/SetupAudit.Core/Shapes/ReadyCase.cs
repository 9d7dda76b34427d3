using SetupAudit.Findings;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Shapes;

/// <summary>What the answer before cutting is made of.</summary>
public sealed record ReadyCase
{
    public required MachineConfig Machine { get; init; }

    /// <summary>The current setup, judged as if a program were started now.</summary>
    public required Setup Setup { get; init; }

    public required IReadOnlyList<ProgramUse> Programs { get; init; }

    public required IReadOnlyList<Finding> Findings { get; init; }

    /// <summary>Whether the setup is one of the record, or none has been opened yet.</summary>
    public required bool HasSetup { get; init; }

    public required DateTimeOffset NowUtc { get; init; }

    public required TimeSpan Fresh { get; init; }

    /// <summary>Start of the last cycle that any source told; null where none did.</summary>
    public DateTimeOffset? LastCycleUtc { get; init; }

    /// <summary>The sources that cannot be read now: the answer is made without them.</summary>
    public IReadOnlyList<UnreadSource> Unread { get; init; } = [];

    /// <summary>What stands against values that an earlier setup left and this one needs.</summary>
    public IReadOnlyList<FindingView> Earlier { get; init; } = [];

    /// <summary>What else leaves the answer open, in words.</summary>
    public IReadOnlyList<string> AlsoUnknown { get; init; } = [];
}
