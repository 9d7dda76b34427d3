using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Readings;
using SetupAudit.Shop;

namespace SetupAudit.Setups;

/// <summary>All that a rule may look at: a setup, with the programs, sheets and past that were known of it.</summary>
public sealed record SetupCase
{
    public required ShopConfig Shop { get; init; }

    public required MachineConfig Machine { get; init; }

    public required Setup Setup { get; init; }

    /// <summary>The setup's programs, with text, sheet and followed calls.</summary>
    public IReadOnlyList<ProgramUse> Programs { get; init; } = [];

    /// <summary>All versions of the machine's programs.</summary>
    public required ProgramShelf Shelf { get; init; }

    /// <summary>Which program last cut in a register before this setup.</summary>
    public IReadOnlyDictionary<Register, LastCut> LastCuts { get; init; } = new Dictionary<Register, LastCut>();

    /// <summary>Start of the last cycle before this setup, by program.</summary>
    public IReadOnlyDictionary<string, Cycle> LastCycles { get; init; } = new Dictionary<string, Cycle>();

    /// <summary>
    /// The setup before this one on the machine (on the pallet, where print-outs tell pallets), as it ended: its cycles
    /// with their ends, also of one still running when this setup opened, its alarms, touches and changes; null for the
    /// first. What it knew of the setup before itself is not kept with it.
    /// </summary>
    public Setup? Previous { get; init; }

    /// <summary>
    /// Changes before this setup opened, first sights left out, oldest first, as far back from its opening as the
    /// longest <c>Within</c> of the configured limits that match this machine: sums run on from one setup to the next.
    /// </summary>
    public IReadOnlyList<Change> RecentChanges { get; init; } = [];

    /// <summary>What offsets stood at in earlier setups that nobody doubts, oldest first.</summary>
    public IReadOnlyList<PastValue> Past { get; init; } = [];

    /// <summary>How often reviews, before this setup, gave each cause.</summary>
    public IReadOnlyDictionary<string, int> CauseCounts { get; init; } = new Dictionary<string, int>();

    /// <summary>Whether any source of the machine tells cycles.</summary>
    public bool TellsCycles { get; init; }

    /// <summary>Whether any print-out of the machine could tell a touch (datum-set or measured).</summary>
    public bool TellsTouches { get; init; }

    /// <summary>
    /// The setup before, where this one only goes on with its job: a change too large for an adjustment opens a setup
    /// of its own, also while parts run. Null where this one is a new job, or came later than a quiet time.
    /// </summary>
    public Setup? GoesOnFrom => WasRunning(Setup.OpenedUtc) ? Previous : null;

    /// <summary>Whether the only program of this setup ran in the setup before, and by a moment had not been quiet for
    /// longer than a quiet time.</summary>
    public bool WasRunning(DateTimeOffset moment)
    {
        if (Previous is not { ClosedUtc: not null } previous || Setup.Programs.Count != 1) return false;
        var quiet = TimeSpan.FromMinutes(Shop.Setups.QuietMinutes);
        return previous.Cycles.Any(cycle => cycle.Program == Setup.Programs[0]
            && moment >= cycle.StartUtc && moment - (cycle.EndUtc ?? cycle.StartUtc) <= quiet);
    }
}
