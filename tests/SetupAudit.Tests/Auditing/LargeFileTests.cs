using System.Text;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

public sealed class LargeFileTests
{
    // Read in one lot with others; by itself; and as a stream, held nowhere whole.
    [Theory]
    [InlineData(100_000)]
    [InlineData(1_000_000)]
    [InlineData(9_500_000)]
    public async Task A_program_of_any_size_is_read_to_its_last_line(int bytes)
    {
        using var bench = new AuditBench();
        var text = new StringBuilder("%\nO2041 (LONG)\nG21\nT3 M6\nG54\nG43 H3 Z5.\n");
        for (var line = 0; text.Length < bytes; line++) text.Append(FormattableString.Invariant($"G1 X{line % 500}.25 Y1.5 F1200\n"));
        bench.Write("programs/O2041.nc", text.Append("G55\nG1 X1.\nM30\n%\n").ToString(), "2026-03-02T07:00:00Z");
        var summary = await bench.OnceAsync();

        Assert.False(summary.SomethingIsWrong);
        var body = Assert.Single(await bench.RowsAsync(DerivedKind.Program)).Body;
        Assert.Contains("{\"register\":\"G55\",\"cuts\":true}", body, StringComparison.Ordinal);
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
    }

    [Theory]
    [InlineData(1_000_000)]
    [InlineData(9_500_000)]
    public async Task A_dump_of_any_size_is_read_to_its_last_line(int bytes)
    {
        using var bench = new AuditBench();
        var text = new StringBuilder("%\n");
        while (text.Length < bytes) text.Append("(nothing of note, and a lot of it, so that the file grows)\n");
        bench.Write("offsets/a.nc", text.Append("G10 L2 P1 X-1.5\n%\n").ToString(), "2026-03-02T07:00:00Z");
        await bench.OnceAsync();

        Assert.Equal("mill-3@20260302-070000/G54.X", Assert.Single(await bench.RowsAsync(DerivedKind.Change)).Id);
    }
}
