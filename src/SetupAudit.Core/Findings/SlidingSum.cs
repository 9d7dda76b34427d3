using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>
/// The largest sum of changes in a row within a time, kept up change by change: each costs the same however many the
/// time holds.
/// </summary>
internal sealed class SlidingSum(TimeSpan within)
{
    // Sums up to just before each change of the time: the lowest and the highest give the largest run.
    private readonly LinkedList<(DateTimeOffset AtUtc, decimal Sum)> _lowest = new();
    private readonly LinkedList<(DateTimeOffset AtUtc, decimal Sum)> _highest = new();
    private decimal _sum;

    /// <summary>
    /// Adds a change no earlier than the last; gives the largest run that ends with it, with its sign; of one way only,
    /// where that is asked.
    /// </summary>
    public decimal Add(DateTimeOffset atUtc, decimal delta, LimitDirection? way = null)
    {
        Drop(_lowest, atUtc);
        Drop(_highest, atUtc);
        while (_lowest.Last is { } low && low.Value.Sum >= _sum) _lowest.RemoveLast();
        while (_highest.Last is { } high && high.Value.Sum <= _sum) _highest.RemoveLast();
        _lowest.AddLast((atUtc, _sum));
        _highest.AddLast((atUtc, _sum));
        _sum += delta;
        var up = _sum - (_lowest.First?.Value.Sum ?? 0m);
        var down = _sum - (_highest.First?.Value.Sum ?? 0m);
        return way switch
        {
            LimitDirection.Up => up,
            LimitDirection.Down => down,
            _ => up >= -down ? up : down,
        };
    }

    private void Drop(LinkedList<(DateTimeOffset AtUtc, decimal Sum)> starts, DateTimeOffset atUtc)
    {
        while (starts.First is { } first && atUtc - first.Value.AtUtc > within) starts.RemoveFirst();
    }
}
