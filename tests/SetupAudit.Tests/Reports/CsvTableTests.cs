namespace SetupAudit.Reports;

// RFC 4180 says what a quoted cell is and that lines end with CRLF; the guard against formulas is common practice.
public sealed class CsvTableTests
{
    [Theory]
    [InlineData("plain", "plain")]
    [InlineData("", "")]
    [InlineData("a,b", "\"a,b\"")]
    [InlineData("say \"stop\"", "\"say \"\"stop\"\"\"")]
    [InlineData("two\r\nlines", "\"two\r\nlines\"")]
    [InlineData(" padded", "\" padded\"")]
    [InlineData("-310.2000", "-310.2000")]
    [InlineData("+5", "+5")]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("@SUM(A1)", "'@SUM(A1)")]
    [InlineData("-cmd|' /C calc'!A0", "'-cmd|' /C calc'!A0")]
    [InlineData("+1,2", "\"'+1,2\"")]
    [InlineData("\t=1", "'\t=1")]
    public void A_cell_is_quoted_where_RFC_4180_wants_it_and_guarded_where_a_spreadsheet_would_compute(
        string text, string cell) => Assert.Equal(cell, CsvTable.Cell(text));

    [Fact]
    public void Rows_end_with_a_carriage_return_and_line_feed()
    {
        using var writer = new StringWriter();
        var table = new CsvTable(writer, ["a", "b"]);
        table.Row(["1", null]);

        Assert.Equal("a,b\r\n1,\r\n", writer.ToString());
    }

    [Fact]
    public void A_row_of_another_width_is_refused()
    {
        using var writer = new StringWriter();
        var table = new CsvTable(writer, ["a", "b"]);

        Assert.Throws<ArgumentException>(() => table.Row(["1"]));
    }
}
