using SetupAudit.Findings;
using SetupAudit.Setups;
using SetupAudit.Support;

namespace SetupAudit.Folding;

/// <summary>What a review makes of later setups: contract promise 2, "reviews teach only what comes after them".</summary>
public sealed class TeachingTests
{
    private const string Z = "implausible-jump/G54.Z";

    // Six setups with Z at about -300, one at -280, and one more.
    private static Day Job(string last, string eighth = "-280.004")
    {
        var day = new Day().Program("O2041", "02-20 06:00");
        for (var date = 1; date <= 6; date++) Set(day, $"03-{date:00}", $"-300.00{date}");
        return Set(Set(day, "03-07", last), "03-08", eighth);
    }

    private static Day Set(Day day, string date, string z) => day
        .Dump($"{date} 06:00", "G54.X=-400 G54.Y=-200 G54.Z=-100")
        .Dump($"{date} 07:00", $"G54.X=-410 G54.Y=-210 G54.Z={z}").Cycle($"{date} 08:00", $"{date} 08:30");

    private static Review Of(Day day, int date, string at, ReviewVerdict verdict = ReviewVerdict.Accepted, string? cause = null)
    {
        var derived = Setups(day).First(item => item.Setup.OpenedUtc.Day == date);
        return new Review
        {
            Id = $"{at}-{verdict}",
            Machine = "mill-3",
            Setup = derived.Setup.Id,
            OpenedUtc = derived.Setup.OpenedUtc,
            AtUtc = Day.At(at),
            AtLocal = at,
            Verdict = verdict,
            Reason = "measured",
            Cause = cause,
            By = "Ann Reed",
            Basis = ReviewStanding.Basis(derived.Setup, derived.Findings),
            RowsSha256 = "",
        };
    }

    private static IReadOnlyList<DerivedSetup> Setups(Day day) => day.Settled("03-09 12:00").Setups;

    private static IReadOnlyList<string> Found(Day day, int date) =>
        [.. Setups(day).Where(item => item.Setup.OpenedUtc.Day == date).SelectMany(item => item.Findings)
            .Select(finding => finding.Id[(finding.Id.IndexOf('/', StringComparison.Ordinal) + 1)..])];

    [Fact]
    public void A_setup_in_doubt_does_not_teach()
    {
        var day = Job("-280");
        Assert.Contains(Z, Found(day, 7));
        Assert.Contains(Z, Found(day, 8));
    }

    [Fact]
    public void One_that_was_accepted_teaches_the_setups_that_open_after_the_review()
    {
        var day = Job("-280");
        day.Reviews.Add(Of(day, 7, "03-07 12:00"));
        Assert.Contains(Z, Found(day, 7));
        Assert.DoesNotContain(Z, Found(day, 8));
    }

    [Fact]
    public void It_teaches_its_own_place_and_no_other()
    {
        var day = Job("-280", "-260");
        day.Reviews.Add(Of(day, 7, "03-07 12:00"));
        Assert.Contains(Z, Found(day, 8));
    }

    [Fact]
    public void A_setup_that_opened_before_the_review_learns_nothing_from_it()
    {
        var day = Job("-280");
        day.Reviews.Add(Of(day, 7, "03-08 07:30"));
        Assert.Contains(Z, Found(day, 8));
    }

    [Fact]
    public void A_rejected_setup_teaches_nothing()
    {
        var day = Job("-280");
        day.Reviews.Add(Of(day, 7, "03-07 12:00"));
        day.Reviews.Add(Of(day, 7, "03-07 13:00", ReviewVerdict.Rejected));
        Assert.Contains(Z, Found(day, 8));
    }

    [Fact]
    public void What_taught_at_once_is_forgotten_where_it_is_rejected()
    {
        var day = Job("-300.007", "-280");
        Assert.Contains(Z, Found(day, 8));
        // With four of the six rejected too little is known for a verdict.
        for (var date = 2; date <= 6; date++)
            day.Reviews.Add(Of(day, date, $"03-0{date} 20:00", ReviewVerdict.Rejected));
        Assert.DoesNotContain(Z, Found(day, 8));
    }

    [Fact]
    public void A_review_of_something_else_than_is_known_now_does_not_teach()
    {
        var day = Job("-280");
        day.Reviews.Add(Of(day, 7, "03-07 12:00") with { Basis = new ReviewBasis("another mark", [Z]) });
        Assert.Contains(Z, Found(day, 8));
    }

    [Fact]
    public void Causes_that_reviews_gave_weigh_in_later_rankings()
    {
        var causes = Causes(Job("-308.003", "-308.004"));
        var second = causes[1];
        var day = Job("-308.003", "-308.004");
        for (var date = 1; date <= 6; date++) day.Reviews.Add(Of(day, date, $"03-0{date} 20:00", cause: second.Name));
        Assert.True(Causes(day).First(cause => cause.Name == second.Name).Probability > second.Probability);
        Assert.Equal(6, day.Reviews.CauseCounts(Day.At("03-08 00:00"))[second.Name]);
        Assert.Equal(2, day.Reviews.CauseCounts(Day.At("03-03 00:00"))[second.Name]);
    }

    private static IReadOnlyList<Cause> Causes(Day day) =>
        Setups(day)[^1].Findings.First(finding => finding.Rule == "implausible-jump").Causes;
}
