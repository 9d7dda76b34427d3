using SetupAudit.Findings.Support;

namespace SetupAudit.Findings;

public sealed class SlidingSumTests
{
    private static readonly TimeSpan Hour = TimeSpan.FromHours(1);

    [Fact]
    public void Changes_within_the_time_add_up()
    {
        var sums = new SlidingSum(Hour);
        Assert.Equal(0.04m, sums.Add(When.At("07:00"), 0.04m));
        Assert.Equal(0.07m, sums.Add(When.At("07:30"), 0.03m));
        Assert.Equal(0.10m, sums.Add(When.At("08:00"), 0.03m));
    }

    [Fact]
    public void What_is_older_than_the_time_drops_out()
    {
        var sums = new SlidingSum(Hour);
        sums.Add(When.At("07:00"), 0.04m);
        Assert.Equal(0.03m, sums.Add(When.At("08:01"), 0.03m));
    }

    [Fact]
    public void The_largest_run_counts_whatever_came_before_it()
    {
        var sums = new SlidingSum(Hour);
        sums.Add(When.At("07:00"), 0.10m);
        Assert.Equal(-0.08m, sums.Add(When.At("07:10"), -0.08m));
        Assert.Equal(-0.12m, sums.Add(When.At("07:20"), -0.04m));
    }

    [Fact]
    public void It_agrees_with_adding_up_every_run()
    {
        var moves = Enumerable.Range(0, 200).Select(index => (At: When.At("07:00").AddMinutes(index * 7 % 13 + index * 5),
            Delta: (index * 37 % 23 - 11) / 100m)).OrderBy(move => move.At).ToList();
        var sums = new SlidingSum(Hour);
        for (var last = 0; last < moves.Count; last++)
        {
            var largest = 0m;
            for (var first = last; first >= 0 && moves[last].At - moves[first].At <= Hour; first--)
            {
                var run = moves[first..(last + 1)].Sum(move => move.Delta);
                if (Math.Abs(run) > Math.Abs(largest)) largest = run;
            }
            Assert.Equal(Math.Abs(largest), Math.Abs(sums.Add(moves[last].At, moves[last].Delta)));
        }
    }
}
