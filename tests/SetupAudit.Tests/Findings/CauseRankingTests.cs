using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Support;
using SetupAudit.Units;

namespace SetupAudit.Findings;

/// <summary>One ordinary mistake at a time, on a job that has been set up six times before.</summary>
public sealed class CauseRankingTests
{
    private static readonly (Axis Axis, decimal[] Values)[] Before =
    [
        (Axis.X, [-402.113m, -402.131m, -402.120m, -402.102m, -402.127m, -402.118m]),
        (Axis.Y, [-198.044m, -198.061m, -198.052m, -198.049m, -198.035m, -198.057m]),
        (Axis.Z, [-318.204m, -318.213m, -318.199m, -318.207m, -318.221m, -318.203m]),
    ];

    [Theory]
    [InlineData("riser-height", "Z", -293.206)]
    [InlineData("gauge-height", "Z", -308.201)]
    [InlineData("sign-flipped", "Z", 318.206)]
    [InlineData("inch-mm-mixed", "Z", -12.528)]
    [InlineData("decimal-point-lost", "Z", -0.318)]
    [InlineData("mistyped-digit", "Z", -388.205)]
    [InlineData("edge-finder-radius", "X", -397.119)]
    [InlineData("stylus-radius", "X", -399.117)]
    [InlineData("lift-left-in", "Z", -218.205)]
    [InlineData("search-end", "Z", -337.204)]
    [InlineData("fixture-moved", "X", -377.461)]
    [InlineData("applied-twice", "Z", -636.412)]
    [InlineData("other-corner", "X", -292.121)]
    [InlineData("centre-for-edge", "X", -347.116)]
    public void The_mistake_that_was_made_comes_first(string cause, string axis, double value)
    {
        var causes = Rank(Enum.Parse<Axis>(axis), (decimal)value);

        Assert.Equal(cause, causes[0].Name);
        Assert.Equal(1m, causes.Sum(item => item.Probability));
    }

    [Fact]
    public void Swapped_axes_are_seen_together()
    {
        var causes = Rank(Axis.X, -198.049m, (Axis.Y, -402.120m));

        Assert.Equal("axes-swapped", causes[0].Name);
        Assert.True(causes[0].Probability > 0.9m);
    }

    [Fact]
    public void An_older_state_restored_to_the_last_digit_is_told_from_a_new_touch()
    {
        var past = Past().Concat([Value(Axis.Z, -205.118m, "O7")]).ToList();

        Assert.Equal("older-values", Rank(Axis.Z, -205.118m, past: past)[0].Name);
    }

    [Fact]
    public void A_cause_says_what_it_predicts_and_by_how_much_it_misses()
    {
        var cause = Rank(Axis.Z, -293.202m)[0];

        Assert.Equal("Z is 25.004 mm above the usual -318.206; a 25 mm riser explains it to 0.004 mm", cause.Because);
        Assert.Equal(-293.206m, cause.Predicted);
    }

    [Fact]
    public void Two_causes_that_predict_the_same_share_the_probability()
    {
        // A 10 mm gauge and the 10 mm step of a lift lie on one another above the usual Z.
        var causes = Rank(Axis.Z, -308.205m);

        Assert.True(causes[0].Probability < 0.97m);
        Assert.Contains(causes.Skip(1), cause => cause.Name == "lift-left-in" && cause.Probability > 0.01m);
    }

    [Fact]
    public void A_configured_weight_moves_the_ranking_between_causes_that_predict_the_same()
    {
        // A 25 mm riser and a 25 mm lift predict the same Z.
        var weights = new Dictionary<string, decimal> { ["lift-left-in"] = 50 };

        Assert.Equal("riser-height", Rank(Axis.Z, -293.206m)[0].Name);
        Assert.Equal("lift-left-in", Rank(Axis.Z, -293.206m, causes: weights)[0].Name);
    }

    [Fact]
    public void Every_cause_that_may_be_configured_is_ranked() =>
        Assert.Equal(SetupAudit.Shop.CauseNames.All.Order(StringComparer.Ordinal),
            Causes.CauseBook.Names.Order(StringComparer.Ordinal));

    private static IReadOnlyList<Cause> Rank(Axis axis, decimal value, (Axis Axis, decimal Value)? also = null, List<PastValue>? past = null,
        IReadOnlyDictionary<string, decimal>? causes = null)
    {
        var setupCase = Case(axis, value, also, past ?? [.. Past()]);
        if (causes is not null) setupCase = setupCase with { Shop = setupCase.Shop with { Causes = causes } };
        var plausibility = new Plausibility(setupCase);
        var key = OffsetKey.Datum(Register.System(1), axis);
        Assert.True(plausibility.IsImplausible(key, value));
        return new CauseRanking(setupCase, plausibility).Rank(key, value);
    }

    private static SetupCase Case(Axis axis, decimal value, (Axis Axis, decimal Value)? also, List<PastValue> past)
    {
        var day = new Day();
        var machine = day.Machine with
        {
            Risers = [25m, 50m],
            Gauges = [10m],
            EdgeFinders = [10m],
            StylusDiameter = 6m,
            Standoff = 6m,
            Search = 25m,
            Travel = new Dictionary<Axis, Bounds> { [Axis.X] = new(-800, 0), [Axis.Y] = new(-450, 0), [Axis.Z] = new(-520, 0) },
        };
        var table = OffsetTable.Empty;
        foreach (var (known, values) in Before)
        {
            var stands = known == axis ? value : known == also?.Axis ? also.Value.Value : values[0];
            table = table.With(OffsetKey.Datum(Register.System(1), known), new OffsetState(
                stands, Day.At("07:00"), Day.At("07:00"), "c", ChangedBy.Unknown, Some.SourceLine()));
        }
        return new SetupCase
        {
            Shop = day.Shop,
            Machine = machine,
            Shelf = new ProgramShelf(),
            Setup = new Setup
            {
                Id = "mill-3@20260302-070000",
                Machine = "mill-3",
                OpenedUtc = Day.At("07:00"),
                LastEventUtc = Day.At("07:00"),
                Judged = Judgement.CuttingStarted,
                JudgedUtc = Day.At("07:30"),
                Before = OffsetTable.Empty,
                After = table,
            },
            Programs = [new ProgramUse { Program = "O2041", AtUtc = Day.At("07:30"), Sheet = Sheet() }],
            Past = past,
        };
    }

    private static SetupSheet Sheet() => new()
    {
        Program = "O2041",
        Units = Unit.Millimetre,
        StockX = 110,
        StockY = 75,
        StockZ = 32,
        File = "O2041.json",
        Sha256 = "s",
        ModifiedUtc = Day.At("01:00"),
    };

    private static IEnumerable<PastValue> Past() =>
        Before.SelectMany(item => item.Values.Select(value => Value(item.Axis, value, "O2041")));

    private static PastValue Value(Axis axis, decimal value, string program) =>
        new(OffsetKey.Datum(Register.System(1), axis), value, program, null, "earlier", Day.At("01:00"), WasSet: true);
}
