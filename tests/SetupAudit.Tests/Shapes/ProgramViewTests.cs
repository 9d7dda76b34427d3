using SetupAudit.Readings;

namespace SetupAudit.Shapes;

public sealed class ProgramViewTests
{
    [Fact]
    public void A_register_that_the_program_works_out_is_null_and_is_read_back_so()
    {
        const string program = "O1\nG10 L2 P#1 X5.\nG10 L10 P#1 R6.\nG10 L2 P1 Z7.\n";
        var view = ProgramView.Of("mill-3", Programs.Read(program), Programs.Scope(program));
        var body = ShapeBody.Of(view);
        Assert.Contains("\"register\":null,\"axis\":\"X\"", body, StringComparison.Ordinal);
        Assert.Contains("\"tool\":null,\"of\":\"length\"", body, StringComparison.Ordinal);
        Assert.Contains("\"register\":\"G54\",\"axis\":\"Z\"", body, StringComparison.Ordinal);
        Assert.Equal(body, ShapeBody.Of(ShapeBody.Read<ProgramView>(body)));
    }
}
