using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using SetupAudit.Shop;

namespace SetupAudit.Auditing;

/// <summary>What must be derived again after a configuration was changed, and what need not.</summary>
public sealed class DerivationBasisTests
{
    private static readonly JsonSerializerOptions LookedUp = new() { Converters = { new JsonStringEnumConverter() } };

    [Theory]
    [InlineData("{\n", "{ // who wrote this, and when\n")]
    [InlineData("\"Europe/London\" }", "\"Europe/London\", \"FreshMinutes\": 5, \"Poll\": \"00:00:07\", \"Rehash\": \"01:00:00\" }")]
    [InlineData("\"Sheets\": {", "\"Alerts\": { \"Syslog\": { \"Host\": \"127.0.0.1\", \"Port\": 6514, \"Protocol\": \"tcp\" } }, \"Sheets\": {")]
    [InlineData("\"Sheets\": {", "\"Web\": { \"Url\": \"http://127.0.0.1:8461\" }, \"Sheets\": {")]
    [InlineData("{ \"Folder\": \"offsets-4\"", "{ \"Settle\": \"00:00:03\", \"Folder\": \"offsets-4\"")]
    public async Task What_derivation_does_not_read_reads_nothing_again(string was, string now)
    {
        using var bench = await KeptAsync();

        bench.Config = Replaced(was, now);
        var summary = await bench.OnceAsync();

        Assert.All(summary.Machines, machine => Assert.Equal(0, machine.Read));
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
    }

    [Theory]
    [InlineData("\"Europe/London\"", "\"Europe/Paris\"", "mill-3", "mill-4")]
    [InlineData("\"Sheets\": {", "\"Limits\": [ { \"Machine\": \"mill-*\", \"Register\": \"G5*\", \"Axis\": \"X\", \"Change\": 0.5, \"Unit\": \"mm\" } ], \"Sheets\": {", "mill-3", "mill-4")]
    [InlineData("\"Sheets\": {", "\"Rules\": { \"same-in-two\": \"note\" }, \"Sheets\": {", "mill-3", "mill-4")]
    [InlineData("\"Sheets\": {", "\"Setups\": { \"QuietMinutes\": 44 }, \"Sheets\": {", "mill-3", "mill-4")]
    [InlineData("SIZE (?<feature>", "SIZES? (?<feature>", "mill-3", "mill-4")]
    [InlineData("\"mill-4\": { \"Kind\": \"mill\",", "\"mill-4\": { \"Kind\": \"mill\", \"ProbeTool\": 24,", "mill-4")]
    [InlineData("\"mill-4\": { \"Kind\": \"mill\",", "\"mill-4\": { \"Kind\": \"mill\", \"Risers\": [ 25.0 ],", "mill-4")]
    [InlineData("\"mill-4\": { \"Kind\": \"mill\",", "\"mill-4\": { \"Kind\": \"mill\", \"Names\": { \"EXT\": \"COMMON\" },", "mill-4")]
    [InlineData("\"mill-4\": { \"Kind\": \"mill\",", "\"mill-4\": { \"Kind\": \"mill\", \"ClockOffset\": \"00:01:00\",", "mill-4")]
    [InlineData("{ \"Folder\": \"offsets-4\"", "{ \"Lag\": \"02:00:00\", \"Folder\": \"offsets-4\"", "mill-4")]
    public async Task What_derivation_reads_is_read_again_for_the_machines_it_is_about(
        string was, string now, params string[] again)
    {
        using var bench = await KeptAsync();

        bench.Config = Replaced(was, now);
        var summary = await bench.OnceAsync();

        Assert.Equal(again, summary.Machines.Where(machine => machine.Read > 0).Select(machine => machine.Machine).Order());
    }

    [Fact]
    public void A_configuration_is_compared_with_all_that_its_types_have()
    {
        const string limits = """
            "Limits": [ { "Machine": "mill-*", "Register": "G5*", "Axis": "X", "Change": 0.5, "Unit": "mm" } ],
            "Rules": { "same-in-two": "note" },
            "Sheets": {
            """;
        const string machine = """
            "mill-4": { "Kind": "mill", "Names": { "EXT": "COMMON" }, "Risers": [ 25.0 ], "ClockOffset": "00:01:00",
            """;
        var text = Replaced("\"Sheets\": {", limits).Replace("\"mill-4\": { \"Kind\": \"mill\",", machine, StringComparison.Ordinal);
        var shop = ShopConfigReader.Read(Encoding.UTF8.GetBytes(text), "/shop").Config;
        Assert.NotNull(shop);

        Assert.Equal(JsonSerializer.Serialize(shop, LookedUp), Encoding.UTF8.GetString(DerivationBasis.Bytes(shop)));
    }

    private static async Task<AuditBench> KeptAsync()
    {
        var bench = new AuditBench();
        bench.Write("offsets/a.nc", AuditBench.Dump(-1m, -2m, -3m), "2026-03-02T07:00:00Z");
        bench.Write("offsets-4/a.nc", AuditBench.Dump(-1m, -2m, -3m), "2026-03-02T07:00:00Z");
        Assert.Equal(2, (await bench.OnceAsync()).Machines.Sum(machine => machine.Read));
        return bench;
    }

    private static string Replaced(string was, string now)
    {
        var at = AuditBench.Configuration.IndexOf(was, StringComparison.Ordinal);
        Assert.True(at >= 0, was);
        return string.Concat(AuditBench.Configuration.AsSpan(0, at), now, AuditBench.Configuration.AsSpan(at + was.Length));
    }
}
