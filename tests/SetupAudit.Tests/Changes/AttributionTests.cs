using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Readings;
using SetupAudit.Support;

namespace SetupAudit.Changes;

public sealed class AttributionTests
{
    [Fact]
    public void A_touch_in_the_interval_of_a_change_measured_it()
    {
        var day = new Day().Dump("06:00", "G54.X=1 G54.Y=1 G54.Z=1")
            .Print("07:10", PrintMeaning.Measured, line => line with { Register = Register.System(1), Feature = "corner-1" })
            .Dump("07:30", "G54.X=5 G54.Y=6 G54.Z=1");

        var changes = day.Setups("07:31")[0].Changes;

        Assert.All(changes, change => Assert.Equal(ChangedBy.Measured, change.By));
        Assert.Contains("corner-1", changes[0].BySays, StringComparison.Ordinal);
    }

    [Fact]
    public void A_touch_of_another_register_or_before_the_interval_measured_nothing()
    {
        var day = new Day()
            .Print("05:00", PrintMeaning.Measured, line => line with { Register = Register.System(1) })
            .Dump("06:00", "G54.X=1")
            .Print("07:10", PrintMeaning.Measured, line => line with { Register = Register.System(2) })
            .Dump("07:30", "G54.X=5");

        Assert.Equal(ChangedBy.Unknown, day.Setups("07:31")[^1].Changes[^1].By);
    }

    [Fact]
    public void A_datum_set_line_with_its_value_makes_the_change_at_its_own_time()
    {
        var setup = new Day().Dump("06:00", "G54.Z=-300").Touch("07:14:20", "G54.Z=-310.2", "surface-1").Setups("07:20")[0];

        var change = Assert.Single(setup.Changes);
        Assert.Equal(Day.At("07:14:20"), change.ToUtc);
        Assert.Equal(ChangedBy.Measured, change.By);
    }

    [Fact]
    public void The_same_value_touched_again_is_a_change_of_zero()
    {
        var setup = new Day().Dump("06:00", "G54.Z=-300").Touch("07:14", "G54.Z=-300").Setups("07:20")[0];

        var change = Assert.Single(setup.Changes);
        Assert.Equal(0m, change.Delta);
        Assert.True(change.Touched);
    }

    [Fact]
    public void A_register_back_at_an_older_state_was_restored()
    {
        var day = new Day().Dump("06:00", "G54.X=1 G54.Y=2").Dump("07:00", "G54.X=5 G54.Y=6").Dump("08:00", "G54.X=1 G54.Y=2");

        var change = day.Setups("08:01")[^1].Changes[^1];

        Assert.Equal(ChangedBy.Restored, change.By);
        Assert.Equal(Day.At("06:00"), change.SameAsUtc);
    }

    [Fact]
    public void A_waiting_file_explains_a_later_change_and_proves_no_state()
    {
        var day = new Day().Dump("06:00", "G54.X=1").Dump("07:00", "G54.X=5");
        day.ToLoad.Add(Day.At("05:00"), OffsetKey.Datum(Register.System(1), Axis.X), 5m, new SourceLine("waiting.nc", "aa", 3));

        var change = day.Setups("07:01")[0].Changes[0];

        Assert.Equal(ChangedBy.Restored, change.By);
        Assert.Equal("waiting.nc", change.BySource?.File);
    }

    [Fact]
    public void A_waiting_file_that_came_after_the_change_explains_nothing()
    {
        var day = new Day().Dump("06:00", "G54.X=1").Dump("07:00", "G54.X=5");
        day.ToLoad.Add(Day.At("07:30"), OffsetKey.Datum(Register.System(1), Axis.X), 5m, Some.SourceLine());

        Assert.Equal(ChangedBy.Unknown, day.Setups("07:01")[0].Changes[0].By);
    }
}
