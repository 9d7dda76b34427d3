using SetupAudit.Datums;
using SetupAudit.Readings;
using SetupAudit.Setups;

namespace SetupAudit.Findings;

public sealed class ProgramTouchTests
{
    private static readonly OffsetKey G54X = OffsetKey.Datum(Register.System(1), Axis.X);

    [Theory]
    [InlineData("G10 L2 P1 X5.\n", true)]
    [InlineData("G10 L2 P2 X5.\n", false)]
    [InlineData("G10 L2 P#1 X5.\n", null)]
    [InlineData("#[5201+20*#1]=5.\n", null)]
    [InlineData("G10 L2 P#1 Y5.\n", false)]
    [InlineData("M98 P999\n", null)]
    public void Whether_a_program_writes_an_offset_is_not_known_where_it_works_out_which(string program, bool? writes)
    {
        var use = new ProgramUse { Program = "O1", AtUtc = Programs.Modified, Scope = Programs.Scope("O1\n" + program) };
        Assert.Equal(writes, ProgramTouch.Writes(use, G54X));
    }
}
