using System.Security.Cryptography;
using System.Text;
using SetupAudit.Store;
using static SetupAudit.Auditing.AuditBench;

namespace SetupAudit.Auditing;

/// <summary>Act 18 on a file that is taken in: tricks of JSON in a setup sheet are refused, and its bytes are kept.</summary>
public sealed class TrickSheetTests : IDisposable
{
    private readonly AuditBench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Theory]
    [InlineData("""{ "Program": "O1", "Units": "mm", "Units": "inch" }""")]
    [InlineData("""{ "Program": "O1", "Units": "mm", "Stock": { "X": NaN } }""")]
    [InlineData("""{ "Program": "O1", "Units": "mm", "Stock": { "X": 1e400 } }""")]
    [InlineData("""{ "Program": "O1", "Units": "mm", "Part": "\ud800" }""")]
    [InlineData("deep")]
    public async Task A_trick_of_json_in_a_sheet_is_refused_and_the_original_is_kept(string text)
    {
        var sheet = text == "deep" ? """{ "Units": "mm", "Part": """ + new string('[', 10_000) : text;
        _bench.Write("sheets/O1.json", sheet, "2026-03-02T06:00:00Z");
        _bench.Write("offsets/1.nc", Dump(-400, -200, -300), "2026-03-02T06:00:00Z");
        await _bench.OnceAsync();

        Assert.Contains(await _bench.RowsAsync(DerivedKind.Arrival), row =>
            row.Body.Contains("O1.json", StringComparison.Ordinal)
            && !row.Body.Contains("\"status\":\"read\"", StringComparison.Ordinal)
            && row.Body.Contains("\"reason\":\"", StringComparison.Ordinal));
        using var store = await StoreReader.OpenAsync(_bench.StoreFolder, Token);
        var bytes = Encoding.UTF8.GetBytes(sheet);
        Assert.Equal(bytes, await store.ReadEvidenceAsync(Convert.ToHexStringLower(SHA256.HashData(bytes)), Token));
    }
}
