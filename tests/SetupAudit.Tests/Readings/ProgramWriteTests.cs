using SetupAudit.Datums;

namespace SetupAudit.Readings;

public sealed class ProgramWriteTests
{
    private static readonly OffsetKey G54X = OffsetKey.Datum(Register.System(1), Axis.X);
    private static readonly OffsetKey G55X = OffsetKey.Datum(Register.System(2), Axis.X);

    [Fact]
    public void A_write_that_names_its_register_sets_no_other()
    {
        var write = Assert.Single(Programs.Read("G10 L2 P1 X5.\n").Writes);
        Assert.Equal((true, true, false, false), (write.Writes(G54X), write.MayWrite(G54X), write.Writes(G55X), write.MayWrite(G55X)));
    }

    [Fact]
    public void A_write_that_works_its_register_out_may_set_any_and_surely_sets_none()
    {
        var write = Assert.Single(Programs.Read("G10 L2 P#1 X5.\n").Writes);
        Assert.True(write.MayWrite(G54X) && write.MayWrite(G55X));
        Assert.False(write.Writes(write.Key));
        Assert.False(write.MayWrite(OffsetKey.Datum(Register.System(1), Axis.Y)));
        Assert.False(write.MayWrite(OffsetKey.OfTool(1, ToolPart.Length)));
    }

    [Fact]
    public void A_tool_write_that_works_its_tool_out_may_set_that_part_of_any()
    {
        var write = Assert.Single(Programs.Read("G10 L11 P#1 R.01\n").Writes);
        Assert.True(write.MayWrite(OffsetKey.OfTool(7, ToolPart.LengthWear)));
        Assert.False(write.MayWrite(OffsetKey.OfTool(7, ToolPart.Length)));
    }

    [Fact]
    public void A_probing_call_sets_its_axes_in_its_register()
    {
        var z = OffsetKey.Datum(Register.System(1), Axis.Z);
        var named = Assert.Single(Programs.Read("G65 P7040 S1\n").Probing);
        var unknown = Assert.Single(Programs.Read("G65 P7040 S#1\n").Probing);
        Assert.Equal((true, true, false), (named.SetsIn(z), named.MaySet(z), named.MaySet(G54X)));
        Assert.Equal((false, true, false), (unknown.SetsIn(z), unknown.MaySet(z), unknown.MaySet(G54X)));
    }
}
