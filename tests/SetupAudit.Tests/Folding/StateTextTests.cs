using System.Text;
using System.Text.Json;
using SetupAudit.Readings;
using SetupAudit.Support;

namespace SetupAudit.Folding;

public sealed class StateTextTests
{
    [Fact]
    public void A_state_that_went_to_bytes_and_back_before_every_sighting_ends_in_the_same_state()
    {
        var day = Busy();
        var derivation = day.Derivation();
        var straight = day.Sightings.Aggregate(derivation.Start(), derivation.Fold);

        var resumed = day.Sightings.Aggregate(derivation.Start(), (state, sighting) =>
            derivation.Fold(StateText.FromBytes(StateText.ToBytes(state)), sighting));

        Assert.Equal(Encoding.UTF8.GetString(StateText.ToBytes(straight)), Encoding.UTF8.GetString(StateText.ToBytes(resumed)));
        Assert.Equal(2, derivation.Settle(resumed, Day.At("12:00"), []).Setups.Count);
    }

    [Fact]
    public void Digits_survive()
    {
        var state = new Day().Dump("06:00", "G54.X=-310.2000").State();

        var back = StateText.FromBytes(StateText.ToBytes(state));

        Assert.Equal("-310.2000", back.Table.States.Single().Value.Value?.ToString(System.Globalization.CultureInfo.InvariantCulture));
    }

    [Fact]
    public void Bytes_of_another_shape_are_refused()
    {
        Assert.Throws<JsonException>(() => StateText.FromBytes("{\"Position\":7}"u8));
    }

    private static Day Busy() => new Day().Program("O2041", "01:00")
        .Dump("06:00", "G54.X=-400 G54.Y=-200 G54.Z=-300 G54.1P7.X=1 T3.length=120")
        .Print("06:30", PrintMeaning.PalletChange, line => line with { Pallet = "A" })
        .Print("06:40", PrintMeaning.Setter, line => line with { Setter = "J. Moss" })
        .Touch("07:00", "G54.X=-410 G54.Y=-205", "corner-1")
        .Print("07:01", PrintMeaning.Alarm, line => line with { Kind = "surface-not-found", Code = "101" })
        .Touch("07:05", "G54.Z=-310 T3.length=121")
        .Print("07:06", PrintMeaning.Measured, line => line with { Feature = "bore-1", Size = 25.010m })
        .Share("07:10", "08:10")
        .Dump("07:11", "G54.Z=-260").Cycle("07:15", "07:25").Dump("07:30", "G54.Z=-310").Cycle("07:35", "07:55")
        .Dump("08:00", "G54.X=0 G54.Y=0 G54.Z=0 T3.length=121")
        .Start("09:00");
}
