using SetupAudit.Datums;
using SetupAudit.Readings;
using SetupAudit.Support;

namespace SetupAudit.Changes;

public sealed class ChangeFinderTests
{
    private static readonly OffsetKey G54X = OffsetKey.Datum(Register.System(1), Axis.X);

    [Fact]
    public void A_value_seen_for_the_first_time_is_a_change_from_nothing_and_opens_no_setup()
    {
        var derived = new Day().Dump("07:00", "G54.X=-310.2").Settled("08:00");

        var change = Assert.Single(derived.Changes);
        Assert.Null(change.Before);
        Assert.Equal(-310.2m, change.After);
        Assert.Null(change.FromUtc);
        Assert.Empty(derived.Setups);
    }

    [Fact]
    public void A_change_lies_after_the_last_dump_that_showed_the_old_value_and_not_later_than_the_first_that_showed_the_new()
    {
        var setup = Assert.Single(new Day().Dump("06:00", "G54.X=1").Dump("07:00", "G54.X=1").Dump("07:30", "G54.X=5").Setups("07:31"));

        var change = Assert.Single(setup.Changes);
        Assert.Equal(Day.At("07:00"), change.FromUtc);
        Assert.Equal(Day.At("07:30"), change.ToUtc);
        Assert.Equal(4m, change.Delta);
        Assert.Equal("mill-3@20260302-073000/G54.X", change.Id);
        Assert.Equal("mill-3@20260302-073000", setup.Id);
    }

    [Fact]
    public void A_print_out_that_shows_the_old_value_narrows_the_interval_that_a_dump_opened()
    {
        var setup = new Day().Dump("06:00", "G54.X=1").Touch("07:10", "G54.X=1").Dump("07:30", "G54.X=5").Setups("07:31")[0];

        Assert.Equal(Day.At("07:10"), setup.Changes[^1].FromUtc);
    }

    [Fact]
    public void A_register_that_a_dump_leaves_out_is_neither_zero_nor_unchanged()
    {
        var state = new Day().Dump("06:00", "G54.X=1 G55.X=2").Dump("07:00", "G54.X=1").State();

        Assert.Equal(Day.At("06:00"), state.Table[OffsetKey.Datum(Register.System(2), Axis.X)]?.ShownUtc);
        Assert.Equal(Day.At("07:00"), state.Table[G54X]?.ShownUtc);
    }

    [Fact]
    public void A_night_copy_may_show_the_state_of_before_a_change_and_then_takes_nothing_back()
    {
        var day = new Day().Dump("00:30", "G54.X=1", lagHours: 2).Touch("01:00", "G54.X=5").Dump("02:00", "G54.X=1", lagHours: 2);

        Assert.Equal(5m, day.State().Table.Value(G54X));
        Assert.Single(day.Setups("03:00")[0].Changes);
    }

    [Fact]
    public void A_lagging_copy_proves_the_old_value_only_as_long_ago_as_its_lag()
    {
        var day = new Day().Dump("01:00", "G54.X=1").Dump("02:00", "G54.X=1", lagHours: 2).Dump("08:00", "G54.X=5");

        Assert.Equal(Day.At("01:00"), day.Setups("09:00")[0].Changes[0].FromUtc);
    }

    [Fact]
    public void Values_are_compared_as_numbers_and_kept_with_their_digits()
    {
        var derived = new Day().Dump("06:00", "G54.X=-310.2").Dump("07:00", "G54.X=-310.2000").Settled("08:00");

        Assert.Empty(derived.Setups);
    }

    [Fact]
    public void A_block_after_a_block_delete_is_never_applied()
    {
        var day = new Day().Dump("06:00", "G54.X=1");
        var conditional = day.Sightings[0] with
        {
            AtUtc = Day.At("07:00"),
            Offsets = [new OffsetReading(1, 1, G54X, 9m, ReadingHow.Conditional)],
        };
        var derivation = day.Derivation();

        var state = derivation.Fold(derivation.Fold(derivation.Start(), day.Sightings[0]), conditional);

        Assert.Equal(1m, state.Table.Value(G54X));
    }

    [Fact]
    public void An_added_value_moves_what_stood_and_without_a_known_value_moves_nothing()
    {
        var day = new Day().Dump("06:00", "G54.X=1");
        var adding = day.Sightings[0] with
        {
            AtUtc = Day.At("07:00"),
            Offsets =
            [
                new OffsetReading(1, 1, G54X, 0.05m, ReadingHow.Adds),
                new OffsetReading(2, 1, OffsetKey.Datum(Register.System(2), Axis.X), 0.05m, ReadingHow.Adds),
            ],
        };
        var derivation = day.Derivation();

        var state = derivation.Fold(derivation.Fold(derivation.Start(), day.Sightings[0]), adding);

        Assert.Equal(1.05m, state.Table.Value(G54X));
        Assert.Null(state.Table[OffsetKey.Datum(Register.System(2), Axis.X)]);
    }
}
