using SetupAudit.Datums;

namespace SetupAudit.Setups;

/// <summary>
/// What an offset stood at when an earlier setup was judged, that nobody doubts or that a person accepted.
/// </summary>
/// <param name="Program">The program that cut with it; null where none was known.</param>
/// <param name="Title">That program's title, which tells one O0001 from another.</param>
/// <param name="WasSet">It was set in that setup, not carried over: only such values tell how much it varies.</param>
/// <param name="Accepted">The setup was in doubt, and a person accepted it: the value may lie in a new place.</param>
public sealed record PastValue(
    OffsetKey Key, decimal Value, string? Program, string? Title, string Setup, DateTimeOffset AtUtc, bool WasSet,
    bool Accepted = false);
