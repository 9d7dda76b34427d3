using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Units;

namespace SetupAudit.Findings;

/// <summary>
/// What an axis of a register should be by the other registers of its job. Two vises on one plate that is put down
/// anew each time lie anywhere, but always as far apart: where the distance varies much less than the register's own
/// place, it says more.
/// </summary>
internal sealed class Companions(
    SetupCase setupCase, ILookup<(OffsetKey Key, string? Program, string? Title), PastValue> past)
{
    /// <summary>With fewer setups in which both were set there is no verdict.</summary>
    public const int LeastPairs = 4;

    // The distance says no more than the register's own past, unless it varies that much less.
    private const double Tighter = 4;
    private const int PairsUsed = 20;

    // In mm, as for a register's own place.
    private const double DistanceGuess = 0.02;
    private const double LargestScale = 300;

    private readonly HashSet<OffsetKey> _set = [.. SetMarks.Of(setupCase).Select(mark => mark.Key)];

    /// <summary>By each register that was set in this setup and usually keeps its distance: where the offset should
    /// be, and other places that a review accepted.</summary>
    /// <param name="own">What the offset usually is by its own past.</param>
    /// <param name="floor">What two settings of one thing differ by at least, as a standard deviation.</param>
    public IReadOnlyList<Companion> Of(OffsetKey key, ProgramUse? use, Usual own, double floor)
    {
        if (!key.IsDatum || !key.IsLinear) return [];
        var mine = Set(key, use).ToDictionary(value => value.Setup, StringComparer.Ordinal);
        if (mine.Count < LeastPairs) return [];
        return [.. past.Where(group => IsBeside(group.Key, key, use)).Select(group => group.Key.Key)
            .Select(other => Beside(mine, other, use, own, floor)).OfType<Companion>()];
    }

    private bool IsBeside((OffsetKey Key, string? Program, string? Title) other, OffsetKey key, ProgramUse? use) =>
        other.Key.IsDatum && other.Key.Axis == key.Axis && other.Key != key
        && other.Program == use?.Program && other.Title == use?.Text?.Title && _set.Contains(other.Key);

    private Companion? Beside(
        Dictionary<string, PastValue> mine, OffsetKey other, ProgramUse? use, Usual own, double floor)
    {
        if (setupCase.Setup.After.Value(other) is not { } stands) return null;
        var pairs = Set(other, use).Where(value => mine.ContainsKey(value.Setup)).TakeLast(PairsUsed)
            .Select(value => (Distance: mine[value.Setup].Value - value.Value, value.Accepted)).ToList();
        if (pairs.Count < LeastPairs) return null;
        var step = (double)setupCase.Machine.Resolution;
        var unit = setupCase.Machine.Units == Unit.Inch ? 1 / 25.4 : 1;
        var prior = ScalePrior.From([], DistanceGuess * unit, 0.3 * step, LargestScale * unit);
        // Two touches go into a distance.
        var usual = Usual.From([.. pairs.Select(pair => pair.Distance)], prior, step, floor * Math.Sqrt(2));
        return usual.Spread * Tighter > own.Spread
            ? null
            : new Companion(other, usual.Beside(other.Register, stands),
                [.. pairs.Where(pair => pair.Accepted).Select(pair => stands + pair.Distance)]);
    }

    private IEnumerable<PastValue> Set(OffsetKey key, ProgramUse? use) =>
        past[(key, use?.Program, use?.Text?.Title)].Where(value => value.WasSet)
            .GroupBy(value => value.Setup, StringComparer.Ordinal).Select(group => group.Last());
}
