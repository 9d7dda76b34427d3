using SetupAudit.Setups;

namespace SetupAudit.Findings;

/// <summary>A cycle, with the end that may be taken for it where no source told one.</summary>
/// <param name="Use">Its program; null where the cycle names none.</param>
internal sealed record CycleSpan(Cycle Cycle, DateTimeOffset EndUtc, ProgramUse? Use)
{
    public DateTimeOffset StartUtc => Cycle.StartUtc;

    public string Program => Cycle.Program ?? "";

    /// <summary>Whether all of (from, to] lies within it.</summary>
    public bool Holds(DateTimeOffset fromUtc, DateTimeOffset toUtc) => fromUtc >= StartUtc && toUtc <= EndUtc;

    /// <summary>Whether some of (from, to] lies within it.</summary>
    public bool MayHold(DateTimeOffset fromUtc, DateTimeOffset toUtc) => StartUtc < toUtc && EndUtc > fromUtc;
}
