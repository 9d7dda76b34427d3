using System.Globalization;
using System.Text;
using SetupAudit.Support;

namespace SetupAudit.Shares;

/// <summary>
/// The built program watches real servers through real mounts while they are killed, frozen, unmounted and written to.
/// SETUPAUDIT_DROPS asks for another number of drops; tests/nightly/share-drops.sh asks for a thousand.
/// </summary>
public sealed class ShareDropTests
{
    private const int UsualDrops = 51;
    private static readonly TimeSpan Poll = TimeSpan.FromSeconds(0.25);

    // Longer than the second for which each of these mounts may show an old size.
    private static readonly TimeSpan Settle = TimeSpan.FromSeconds(1.2);

    [Fact]
    public void Shares_that_drop_lose_tear_repeat_and_delete_nothing_and_leave_the_others_alone()
    {
        if (ShareGround.Lacks() is { } lacks) Assert.Skip(lacks);
        using var ground = new ShareGround();
        using var shares = new SharePark(ground);
        using var shop = Workshop.With(Config(shares));
        using var log = new ArrivalLog(shop["audit"]);
        var asked = Asked("SETUPAUDIT_DROPS", UsualDrops);
        var drops = (asked + shares.All.Count - 1) / shares.All.Count;
        // Few drops are short ones, so that they cost little time; many last as long as real ones.
        var seed = Asked("SETUPAUDIT_SEED", Environment.TickCount);
        var rounds = shares.All.Select((share, index) =>
            new DropRounds(share, log, index * 2, new Outages(seed + index, isShort: asked <= UsualDrops), Settle)).ToList();
        using var program = shop.Start("run");
        program.WaitFor("Watching");
        using var local = new LocalPulse(shop["shares/local"], log);

        local.Beat(TimeSpan.FromSeconds(5), isQuiet: true);
        var threads = rounds.Select(one => new Trial(() => one.Run(drops))).ToList();
        local.BeatUntil(() => threads.TrueForAll(one => one.HasEnded));
        threads.ForEach(one => one.ThrowIfFailed());
        rounds.ForEach(one => ShareGround.Until(() => Printed(shop, one.Machine).Count >= one.Writer.Features.Count,
            TimeSpan.FromSeconds(100), () => $"the last lines that {one.Machine} printed are derived"));
        var ran = program.Stop().Exits(0);

        var (quiet, during) = local.Medians();
        TestContext.Current.TestOutputHelper?.WriteLine($"seed {seed}\n{Told(rounds, quiet, during)}\n{ran.Errors}");
        Assert.All(rounds, one => Check(one, shop, log));
        Assert.DoesNotContain("unreadable", shop.Rules());
        Assert.InRange(during / quiet, 0, 1.3);
    }

    private static int Asked(string name, int usual) =>
        Environment.GetEnvironmentVariable(name) is { Length: > 0 } asked
            ? int.Parse(asked, CultureInfo.InvariantCulture)
            : usual;

    private static void Check(DropRounds one, Workshop shop, ArrivalLog log)
    {
        var kept = log.Of(one.Machine).Where(arrival => arrival.Source == 0)
            .Select(arrival => (File: Path.GetFileName(arrival.File), arrival.Sha256)).ToList();
        var whole = kept.Where(version => !one.Writer.Halves.Contains(version.Sha256)).ToList();
        Assert.Empty(one.Writer.Versions.Except(one.Hurried).Except(whole));
        Assert.Empty(whole.Except(one.Writer.Versions));
        Assert.Equal(whole.Count, whole.Distinct().Count());
        Assert.All(log.Of(one.Machine), arrival => Assert.Null(arrival.Refused));
        Assert.Equal(one.Writer.Features.Order(StringComparer.Ordinal), Printed(shop, one.Machine).Order(StringComparer.Ordinal));
    }

    private static List<string> Printed(Workshop shop, string machine) =>
        [.. shop.List("measurements", "--machine", machine).Select(row => row.Text("feature") ?? "")];

    private static string Told(IEnumerable<DropRounds> rounds, double quiet, double during)
    {
        var text = new StringBuilder();
        foreach (var one in rounds)
        {
            text.Append(CultureInfo.InvariantCulture,
                $"{one.Machine}: {one.Done} drops, {one.Writer.Versions.Count} versions; seconds from healed to kept:");
            foreach (var drop in one.Recovered.GroupBy(pair => pair.Drop, pair => pair.Time.TotalSeconds))
                text.Append(CultureInfo.InvariantCulture, $" {drop.Key} {drop.Average():0.0} (at most {drop.Max():0.0})");
            text.Append('\n');
        }

        return text.Append(CultureInfo.InvariantCulture,
            $"local share: median {quiet:0.00} s while quiet, {during:0.00} s during drops, ratio {during / quiet:0.000}").ToString();
    }

    private static string Config(SharePark shares)
    {
        var machines = shares.All.Select(share => (share.Name, share.Folder)).Append(("local", "shares/local")).Select(
            pair => $$"""
                "{{pair.Item1}}": { "Kind": "mill", "Units": "mm", "Resolution": 0.001, "WithoutPoint": "increments", "Watch": [
                  { "Folder": "{{pair.Item2}}/offsets", "Files": "*.nc", "Read": "data-setting" },
                  { "Folder": "{{pair.Item2}}/prints", "Files": "*.log", "Read": "print-out", "Lines": "prints" } ] }
                """);
        return $$"""
            {
              "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Etc/UTC", "Poll": "{{Poll}}", "Settle": "{{Settle}}" },
              "Store": { "Folder": "audit" }, "Web": { "Url": "http://127.0.0.1:{{ShareGround.FreePort()}}" },
              "Machines": { {{string.Join(",\n", machines)}} },
              "PrintOuts": { "prints": { "Time": "yyyy-MM-dd HH:mm:ss", "Lines": [
                { "Match": "^(?<time>[-0-9]+ [:0-9]+) TOUCH (?<feature>\\S+) (?<register>G5\\d) SIZE (?<size>\\S+)", "Means": "measured" } ] } }
            }
            """;
    }
}
