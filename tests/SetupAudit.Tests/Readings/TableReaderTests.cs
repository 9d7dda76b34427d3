using SetupAudit.Evidence;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

public sealed class TableReaderTests
{
    public static TheoryData<string> Files => DumpFixture.Inputs("table");

    [Theory]
    [MemberData(nameof(Files))]
    public void A_table_gives_what_its_pair_says(string file) => DumpFixture.Check("table", SourceKind.Table, file);

    [Theory]
    [InlineData("Register,X,Y\nG54,-310.2000,5\n")]
    [InlineData("Register;X;Y\nG54;-310,2000;5\n")]
    [InlineData("Register\tX\tY\r\nG54\t-310.2000\t5")]
    [InlineData("register, x , y\ng54, -310.2000, 5\n")]
    [InlineData("\"Register\",\"X\",\"Y\"\n\"G54\",\"-310.2000\",\"5\"\n")]
    [InlineData("sep=;\nRegister;X;Y\nG54;-310.2000;5\n")]
    [InlineData("\n\nRegister,Note,X,Y\nG54,\"vise, \"\"left\"\"\r\nbed\",-310.2000,5\n")]
    [InlineData("Register,Axis,Value\nG54,X,-310.2000\nG54,y,5\n")]
    [InlineData("Axis;Value;Register\nX;-310,2000;G54\nY;5;G54\n")]
    public void The_same_table_may_be_written_in_many_ways(string text)
    {
        var result = Dumps.Table(text);
        Assert.Equal("G54.X=-310.2000 G54.Y=5", Dumps.Said(result));
        Assert.Empty(result.Faults);
    }

    [Fact]
    public void An_empty_cell_says_nothing() =>
        Assert.Equal("G54.Y=0 G55.X=1", Dumps.Said(Dumps.Table("Register,X,Y\nG54,,0\nG55,1,  \n,,\n\n")));

    [Theory]
    [InlineData("Tool,Length,LengthWear,Diameter\n3,120.5000,-0.02,10\n", "T3.length=120.5000 T3.length-wear=-0.02 T3.diameter=10")]
    [InlineData("Tool,length wear,DIAMETER-WEAR\nT12,0.1,0.2\n", "T12.length-wear=0.1 T12.diameter-wear=0.2")]
    [InlineData("Tool;Of;Value\n3;length;120,5\n3;length wear;0\n", "T3.length=120.5 T3.length-wear=0")]
    [InlineData("Register,Tool,X,Length\nG54,,1,\n,7,,2\n", "G54.X=1 T7.length=2")]
    public void Tools_are_read_as_registers_are(string text, string said) =>
        Assert.Equal(said, Dumps.Said(Dumps.Table(text)));

    [Fact]
    public void On_a_lathe_X_and_Z_of_a_tool_row_are_the_tools()
    {
        const string text = "Tool,X,Z,XWear,ZWear,NoseRadius,NoseRadiusWear,Tip\n2,140.5,88.25,-0.02,0,0.8,0,3\n";
        Assert.Equal(
            "T2.x=140.5 T2.z=88.25 T2.x-wear=-0.02 T2.z-wear=0 T2.nose-radius=0.8 T2.nose-radius-wear=0 T2.tip=3",
            Dumps.Said(Dumps.Table(text, Dumps.Lathe)));
    }

    [Theory]
    [InlineData("G54,n/a,5", 2, 5, "\"n/a\" stands for G54.X: a number was expected", "G54.Y=5 G55.X=1 G55.Y=2")]
    [InlineData("G54,1 234,5", 2, 5, "\"1 234\" stands for G54.X: a number was expected", "G54.Y=5 G55.X=1 G55.Y=2")]
    [InlineData("G54,\"1,234\",5", 2, 5,
        "\"1,234\" stands for G54.X: the comma in this number may mean thousands or a decimal point; a point was expected",
        "G54.Y=5 G55.X=1 G55.Y=2")]
    [InlineData("G5X,1,5", 2, 1, "\"G5X\" is no register's name; G54 or another was expected", "G55.X=1 G55.Y=2")]
    [InlineData(",1,5", 2, 1, "the row names no register and no tool", "G55.X=1 G55.Y=2")]
    [InlineData("G54,99999999999,5", 2, 5, "\"99999999999\" stands for G54.X: the number is beyond any machine", "G54.Y=5 G55.X=1 G55.Y=2")]
    [InlineData("G55,3,2", 3, 5, "G55.X stands in the table before, with another value", "G55.X=3 G55.Y=2 G55.Y=2")]
    public void A_bad_cell_is_a_fault_and_the_other_rows_still_count(string row, int line, int column, string reason, string said)
    {
        var result = Dumps.Table($"Register,X,Y\n{row}\nG55,1,2\n");
        Assert.Equal([new Fault(line, column, reason)], result.Faults);
        Assert.Equal(said, Dumps.Said(result));
    }

    [Theory]
    [InlineData("G54,1", 3, 1, "the row has 2 fields, and the header has 3")]
    [InlineData("G54,1,2,3", 3, 1, "the row has more fields, and the header has 3")]
    // V5: RFC 4180 section 2, rule 5, an unquoted field holds no quotation mark.
    [InlineData("G5\"4,1,2", 3, 1, "a quotation mark stands inside a field that is not quoted")]
    [InlineData("\"G54,1,2", 3, 1, "a quotation mark opens this field and none closes it")]
    [InlineData("\"G54\"x,1,2", 3, 1, "text stands behind the closing quotation mark of this field")]
    public void Where_rows_cannot_be_told_apart_reading_stops(string row, int line, int column, string reason)
    {
        var result = Dumps.Table($"Register,X,Y\nG55,7,8\n{row}\nG56,9,9\n");
        Assert.Equal([new Fault(line, column, reason)], result.Faults);
        Assert.Equal("G55.X=7 G55.Y=8", Dumps.Said(result));
    }

    [Fact]
    public void Points_and_commas_in_one_table_are_not_guessed_at()
    {
        var result = Dumps.Table("Register;X;Y\nG54;-310,2;1.234\n");
        Assert.Equal("G54.X=-310.2", Dumps.Said(result));
        Assert.Equal(
            [new Fault(2, 12, "\"1.234\" stands for G54.Y: numbers of this table have points and commas, and one of the two may mean thousands")],
            result.Faults);
    }

    [Theory]
    [InlineData("Name,Size\nA,1\n", "no column is headed Register or Tool, so the rows cannot be told apart")]
    [InlineData("Register,Size\nG54,1\n", "no column of the table holds values; X, Y, Z, Length or Value were expected")]
    [InlineData("Register,X\n", "the table has a header and no rows")]
    [InlineData("  \n\n", "the file holds no text; a table with a header was expected")]
    public void A_table_that_cannot_be_used_says_why(string text, string reason)
    {
        var result = Dumps.Table(text);
        Assert.Equal(ArrivalStatus.Unreadable, result.Status);
        Assert.Equal([new Fault(0, 0, reason)], result.Faults);
    }

    [Fact]
    public void A_heading_the_configuration_names_and_the_file_lacks_is_told()
    {
        var watch = Dumps.Watch(SourceKind.Table) with { Columns = new Dictionary<string, string> { ["Z"] = "Z offs" } };
        var result = DumpReader.Read("Register,X,Z\nG54,1,2\n"u8, Dumps.Mill, watch);
        Assert.Equal("G54.X=1", Dumps.Said(result));
        Assert.Equal([new Fault(1, 1, "no column is headed \"Z offs\", which the configuration names for Z")], result.Faults);
    }

    [Fact]
    public void Reading_stops_after_a_hundred_bad_cells()
    {
        var result = Dumps.Table("Register,X\n" + string.Concat(Enumerable.Repeat("G54,?\n", 500)));
        Assert.Equal(101, result.Faults.Count);
        Assert.Equal("100 cells could not be read; reading stops here", result.Faults[^1].Reason);
    }
}
