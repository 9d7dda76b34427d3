using SetupAudit.Setups;

namespace SetupAudit.People;

/// <summary>What a person says of a setup.</summary>
public sealed record ReviewGiven(string By, ReviewVerdict Verdict, string Reason, string? Cause);
