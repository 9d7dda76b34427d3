using SetupAudit.Evidence;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>Check values from published standards and from common practice, each with its source beside it.</summary>
public sealed class PublishedDumpTests
{
    private static readonly MachineConfig ByTheLetter = Dumps.Mill with
    {
        WithoutPointIsIncrements = false,
        Dialect = new DialectConfig { G91Adds = false },
    };

    [Fact]
    public void N1_blanks_and_case_mean_nothing()
    {
        // NISTIR 6556, 3.3: "g0x +0. 12 34y 7" is "g0 x+0.1234 y7".
        Assert.Equal(
            Dumps.Said(Dumps.DataSetting("G10 L2 P1 x+0.1234 y7", ByTheLetter)),
            Dumps.Said(Dumps.DataSetting("g 10l2p1x +0. 12 34y 7", ByTheLetter)));
    }

    [Fact]
    public void N10_the_axes_that_are_given_are_set_and_no_others() =>
        // NISTIR 6556, 3.5.5: "G10 L2 P1 x 3.5 y 17.2".
        Assert.Equal("G54.X=3.5 G54.Y=17.2", Dumps.Said(Dumps.DataSetting("G10 L2 P1 x 3.5 y 17.2", ByTheLetter)));

    [Theory]
    // NISTIR 6556, 3.5.5: P is a whole number from 1 to 9. P0 is common practice, and P[2*3] belongs to a program.
    [InlineData("G10 L2 P10 X1")]
    [InlineData("G10 L2 P1.5 X1")]
    [InlineData("G10 L2 P[2*3] X1")]
    public void N11_other_places_are_an_error(string block)
    {
        var result = Dumps.DataSetting(block, ByTheLetter);
        Assert.Empty(result.Offsets);
        Assert.Single(result.Faults);
    }

    [Fact]
    public void N15_units_and_distance_act_before_the_data_of_their_line()
    {
        // NISTIR 6556, 3.8, table 8: G20 and G21 are step 12, G90 and G91 step 17, G10 step 19.
        Assert.Equal("G55.X=25.4:Adds", Dumps.Said(Dumps.DataSetting("G54 G10 L2 P2 X1. G91 G20")));
    }

    [Theory]
    // NISTIR 6556, 3.3.4: a comment ends at the first closing parenthesis, on its line, and none opens inside it.
    [InlineData("(a (b) c)", 1, 4)]
    [InlineData("(open", 1, 1)]
    public void N22_comments_close_on_their_line_and_do_not_nest(string text, int line, int column)
    {
        var fault = Assert.Single(Dumps.DataSetting(text).Faults);
        Assert.Equal((line, column), (fault.Line, fault.Column));
    }

    [Theory]
    // Common practice, no source: without a point a number counts increments; RS274/NGC 3.3.2.1 gives it its face value.
    [InlineData("G90 G10 L2 P1 X-312415", "G54.X=-312.415", "G54.X=-312415")]
    [InlineData("G90 G10 L2 P1 X-312415.", "G54.X=-312415", "G54.X=-312415")]
    [InlineData("G90 G10 L2 P1 A90000", "G54.A=90.000", "G54.A=90000")]
    public void I1_a_number_without_a_point_counts_increments(string block, string counted, string byTheLetter)
    {
        Assert.Equal(counted, Dumps.Said(Dumps.DataSetting(block)));
        Assert.Equal(byTheLetter, Dumps.Said(Dumps.DataSetting(block, ByTheLetter)));
    }

    [Theory]
    // Common practice, no source: the least increment in inches is 0.0001.
    [InlineData("G10 L2 P2 Z-5", "G55.Z=-0.0005")]
    [InlineData("G10 L2 P2 Z-5.", "G55.Z=-5")]
    [InlineData("G21 G10 L2 P2 Z-25400", "G55.Z=-1")]
    public void I2_inches_have_an_increment_of_their_own(string block, string said) =>
        Assert.Equal(said, Dumps.Said(Dumps.DataSetting(block, Dumps.InchMill)));

    [Fact]
    public void I2_an_inch_block_on_a_metric_machine_is_turned_into_mm_exactly() =>
        // 25.4 exactly (NIST SP 811).
        Assert.Equal("G55.Z=-0.01270 G55.X=25.4 G55.B=5",
            Dumps.Said(Dumps.DataSetting("G20 G10 L2 P2 Z-5 X1. B5.")));

    [Fact]
    public void I3_G91_adds_by_common_practice_and_sets_by_the_letter_of_the_standard()
    {
        Assert.Equal("G54.X=0.05:Adds", Dumps.Said(Dumps.DataSetting("G91 G10 L2 P1 X0.05")));
        Assert.Equal("G54.X=0.05", Dumps.Said(Dumps.DataSetting("G91 G10 L2 P1 X0.05", ByTheLetter)));
        Assert.Equal("G54.X=1:Adds G54.Y=2", Dumps.Said(Dumps.DataSetting("G91\nG10 L2 P1 X1.\nG90\nG10 L2 P1 Y2.")));
    }

    [Fact]
    public void I4_L20_is_the_extended_register_or_leaves_the_register_unresolved()
    {
        // Common practice, no source: two meanings, and the machine's configuration says which.
        Assert.Equal("G54.1P7.X=1", Dumps.Said(Dumps.DataSetting("G10 L20 P7 X1.")));
        var position = Dumps.Mill with { L20IsAdditional = false };
        Assert.Equal("G59.1.X=1:Unresolved", Dumps.Said(Dumps.DataSetting("G10 L20 P7 X1.", position)));
    }

    [Fact]
    public void I5_P0_is_the_common_offset() =>
        // Common practice, no source; RS274/NGC knows no P0.
        Assert.Equal("COMMON.Z=0.1", Dumps.Said(Dumps.DataSetting("G90 G10 L2 P0 Z0.1")));

    [Fact]
    public void I6_selecting_a_register_sets_nothing() =>
        Assert.Equal("G54.Y=2", Dumps.Said(Dumps.DataSetting("G10 L2 P1 Y2.\nG54.1 P3 G0 X0\nG54 P4\n")));

    [Fact]
    public void I7_a_block_behind_a_block_delete_is_never_applied_in_silence()
    {
        var result = Dumps.DataSetting("/G10 L2 P1 X0.");
        Assert.Equal(ReadingHow.Conditional, Assert.Single(result.Offsets).How);
    }

    [Theory]
    // Common practice, no source.
    [InlineData("G10 L10 P3 R120.5000", "T3.length=120.5000")]
    [InlineData("G10 L11 P3 R-0.02", "T3.length-wear=-0.02")]
    [InlineData("G10 L12 P3 R10.000", "T3.diameter=10.000")]
    [InlineData("G10 L13 P3 R-0.010", "T3.diameter-wear=-0.010")]
    [InlineData("G91 G10 L11 P3 R-0.02", "T3.length-wear=-0.02:Adds")]
    [InlineData("G10 L10 P3 R120500", "T3.length=120.500")]
    public void Tool_offsets_are_L10_to_L13(string block, string said) =>
        Assert.Equal(said, Dumps.Said(Dumps.DataSetting(block)));

    [Fact]
    public void Where_L12_and_L13_hold_a_radius_the_diameter_is_twice_that_with_its_digits()
    {
        var onRadius = Dumps.Mill with { DOnDiameter = false };
        Assert.Equal("T3.diameter=10.0000 T3.diameter-wear=-0.020 T3.length=5.0",
            Dumps.Said(Dumps.DataSetting("G10 L12 P3 R5.0000\nG10 L13 P3 R-0.010\nG10 L10 P3 R5.0\n", onRadius)));
    }

    [Theory]
    // Common practice, no source: on a lathe U and W are increments of X and Z, and a tool has X, Z, nose radius and tip.
    [InlineData("G10 L2 P1 X1. Z2. U0.5 W-0.5", "G54.X=1 G54.Z=2 G54.X=0.5:Adds G54.Z=-0.5:Adds")]
    [InlineData("G10 L10 P2 X140.5 Z88.25 R0.8 Q3", "T2.x=140.5 T2.z=88.25 T2.nose-radius=0.8 T2.tip=3")]
    [InlineData("G10 L11 P2 X-0.02 W0.01 R0.", "T2.x-wear=-0.02 T2.z-wear=0.01:Adds T2.nose-radius-wear=0")]
    [InlineData("G91 G10 L10 P2 X0.1 Q4", "T2.x=0.1:Adds T2.tip=4")]
    public void On_a_lathe_U_and_W_add_and_a_tool_has_X_and_Z(string block, string said) =>
        Assert.Equal(said, Dumps.Said(Dumps.DataSetting(block, Dumps.Lathe)));

    [Fact]
    public void On_a_mill_U_V_and_W_are_axes_of_their_own() =>
        Assert.Equal("G54.U=1 G54.V=2 G54.W=3 G54.R=30.5",
            Dumps.Said(Dumps.DataSetting("G10 L2 P1 U1. V2. W3. R30.5")));

    [Theory]
    // V1 to V4: RFC 4180, section 2; the blank of V4 belongs to the field and to no number.
    [InlineData("Register,X,Y\r\nG54,1,2")]
    [InlineData("Register,X,Y\r\nG54,1,2\r\n")]
    [InlineData("Register,X,Y\r\nG54, 1,2\r\n")]
    public void V1_and_V4_records_and_blanks(string text) =>
        Assert.Equal("G54.X=1 G54.Y=2", Dumps.Said(Dumps.Table(text)));

    [Fact]
    public void V2_and_V3_quoted_fields_hold_line_ends_and_doubled_quotes()
    {
        var result = Dumps.Table("Register,\"No\r\nte\",X\r\nG54,\"b\"\"b\r\nb\",1\r\nG55,b,2\r\n");
        Assert.Equal([(4, 4), (5, 7)], result.Offsets.Select(reading => (reading.Line, reading.Column)));
        Assert.Equal(ArrivalStatus.Read, result.Status);
    }
}
