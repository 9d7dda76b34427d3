using SetupAudit.Accuracy;
using SetupAudit.Accuracy.Scores;
using SetupAudit.Accuracy.Trials;

namespace SetupAudit.Findings;

/// <summary>A few made-up shops: enough to fail where the ranking broke. docs/accuracy.md has the real figures.</summary>
public sealed class AccuracyTests
{
    private static readonly Lazy<IReadOnlyList<SeedResult>> Results =
        new(() => [.. Enumerable.Range(501, 3).Select(seed => new Judging(seed, new ShopChoice()).Run())]);

    private static CauseScore Score => CauseScore.Of([.. Results.Value.SelectMany(result => result.Verdicts)]);

    [Fact]
    public void Planted_mistakes_are_found_and_their_cause_comes_first()
    {
        Assert.True(Score.Planted > 300);
        Assert.InRange(Score.Recall, 0.98, 1);
        Assert.InRange(Score.FairAccuracy, 0.95, 1);
        Assert.InRange(Score.StrictAccuracy, 0.92, 1);
    }

    [Fact]
    public void Clean_setups_raise_hardly_a_false_jump_and_nothing_else()
    {
        Assert.True(Results.Value.Sum(result => result.Clean) > 200);
        Assert.InRange(Results.Value.Sum(result => result.FalseAlarms.Count), 0, 4);
        Assert.Empty(Results.Value.SelectMany(result => result.Doubted));
    }

    [Fact]
    public void The_change_behind_a_scrapped_part_comes_first()
    {
        var scraps = Results.Value.SelectMany(result => result.Scraps).ToList();
        Assert.True(scraps.Count > 80);
        Assert.InRange(scraps.Count(scrap => scrap.RightFirst) / (double)scraps.Count, 0.9, 1);
    }
}
