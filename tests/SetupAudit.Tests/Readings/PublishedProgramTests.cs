using SetupAudit.Datums;
using SetupAudit.Support;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>
/// Programs of a test part that NIST publishes (Smart Manufacturing Systems test bed, technical data package), as a
/// shop stores them. Expected values were counted in the files by a script of its own.
/// </summary>
public sealed class PublishedProgramTests
{
    [Theory]
    [InlineData("plate-1", "NIST_MTC_CRADA_PLATE", "T15, T3, T4, T5, T1, T7, T23", 4161, -0.21)]
    [InlineData("plate-2", "NIST_MTC_CRADA_PLATE-2", "T7, T15, T3, T4, T5, T1, T23", 4161, -0.21)]
    [InlineData("plate-3", "NIST_MTC_CRADA_PLATE-3", "T7, T15, T3, T4, T5, T1, T23", 4161, -0.21)]
    [InlineData("box-op2", "NIST_MTC_CRADA_BOX_REV-A OP2", "T3, T21", 1186, -0.3194)]
    [InlineData("cover", "NIST_MTC_CRADA_COVER_REV-A", "T23", 1465, -0.26)]
    public void A_published_program_cuts_in_G54_and_only_parks_in_G58(
        string name, string title, string tools, int lines, double lowestZ)
    {
        var bytes = File.ReadAllBytes(Reference.At($"nist-sms-programs/{name}.nc"));
        var text = Programs.Read(bytes, Programs.Mill with { Units = Unit.Inch, Resolution = 0.0001m }, name + ".nc");
        Assert.Equal(("O0", title, Unit.Inch, lines), (text.Program, text.Title, text.Units, text.Lines));
        Assert.Empty(text.Faults);
        Assert.Empty(text.Writes);

        var shelf = new ProgramShelf();
        shelf.Add(text);
        var scope = shelf.Scope("O0", Programs.Modified) ?? throw new InvalidOperationException("O0 was not found");
        Assert.Equal("G54 cuts, G58 parks", Programs.Registers(scope));
        Assert.Equal(tools, Programs.Tools(scope));
        Assert.Equal([Axis.X, Axis.Y, Axis.Z], scope.Registers[0].Axes);
        Assert.Equal([Axis.X, Axis.Y], scope.Registers[1].Axes);
        Assert.Equal((decimal)lowestZ, scope.Registers[0].LowestZ);
    }
}
