using System.Text.Json;

namespace SetupAudit.Reports;

public sealed class TextReportsTests
{
    [Fact]
    public void The_json_report_is_the_setup_whole()
    {
        var setup = JsonElement.Parse(JsonReport.Of(MadeUp.Report()));

        Assert.Equal(
            ["setup", "machine", "pallet", "opened", "closed", "status", "programs", "setter"],
            setup.EnumerateObject().Take(8).Select(field => field.Name));
        Assert.Equal(-412.250m, setup.GetProperty("registers")[0].GetProperty("axes").GetProperty("X").GetProperty("after").GetDecimal());
        Assert.False(setup.GetProperty("registers")[0].GetProperty("axes").GetProperty("Z").GetProperty("set").GetBoolean());
        Assert.Equal(3, setup.GetProperty("changes").GetArrayLength());
        Assert.Equal(1, setup.GetProperty("adjustments").GetArrayLength());
        Assert.Equal(3, setup.GetProperty("cycles").GetArrayLength());
        Assert.Equal(3, setup.GetProperty("findings").GetArrayLength());
        Assert.Equal(JsonValueKind.Null, setup.GetProperty("review").ValueKind);
    }

    [Fact]
    public void The_csv_report_has_a_row_for_each_change_and_finding()
    {
        var lines = CsvReport.Of(MadeUp.Report()).Split("\r\n");

        Assert.StartsWith("record,id,machine,setup,register,axis,tool,of,before,after,delta,", lines[0], StringComparison.Ordinal);
        Assert.Equal(3 + 1 + 3 + 2, lines.Length);
        Assert.Contains(",-410.000,-412.250,-2.250,", lines[1], StringComparison.Ordinal);
        Assert.StartsWith("adjustment,", lines[4], StringComparison.Ordinal);
        Assert.StartsWith("finding,mill-3@20260302-071000/axis-not-set/G54.Z,", lines[5], StringComparison.Ordinal);
        Assert.Empty(lines[^1]);
    }
}
