using SetupAudit.Evidence;

namespace SetupAudit.Setups;

/// <summary>Which program last cut in a register before a setup.</summary>
/// <param name="Program">Normalised name.</param>
/// <param name="Title">Its title then: O0001 may be another part's.</param>
/// <param name="AtUtc">Start of that program's last cycle.</param>
/// <param name="OthersSince">Another program cut on the machine, in any register, since then.</param>
public sealed record LastCut(string Program, string? Title, DateTimeOffset AtUtc, bool OthersSince, SourceLine Source);
