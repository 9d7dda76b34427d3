using System.Globalization;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>
/// The service, the command that hands a review over to it, or both are killed at a random moment of the hand-over. A
/// review that was told to be kept is there; one that lay handed over is there; none is there twice. SETUPAUDIT_KILLS
/// sets how often.
/// </summary>
public sealed class KilledInboxTests
{
    private const string Setup = "mill-3@20260302-071000";
    private const int Usual = 9;

    private static readonly string OwnPort = Workshop.OneMill.Replace("\"Store\": { \"Folder\": \"audit\" },",
        "\"Store\": { \"Folder\": \"audit\" }, \"Web\": { \"Url\": \"http://127.0.0.1:0\" },", StringComparison.Ordinal);

    [Fact]
    public void A_review_handed_over_is_neither_lost_nor_kept_twice_whoever_is_killed()
    {
        using var shop = Workshop.With(OwnPort)
            .Write("shares/mill-3/offsets/a.nc", "2026-03-02T06:00:00Z", "%\nG10 L2 P1 X-400. Y-200. Z-300.\n%\n")
            .Write("shares/mill-3/offsets/b.nc", "2026-03-02T07:10:00Z", "%\nG10 L2 P1 X-410. Y-210. Z-300.\n%\n");
        shop.Once();
        var inbox = Path.Combine(shop.Folder, "audit", "inbox");
        var kills = int.TryParse(
            Environment.GetEnvironmentVariable("SETUPAUDIT_KILLS"), CultureInfo.InvariantCulture, out var wanted) ? wanted : Usual;
        var dice = new Random(kills);
        var must = new HashSet<string>(StringComparer.Ordinal);
        for (var kill = 0; kill < kills; kill++)
        {
            var reason = string.Create(CultureInfo.InvariantCulture, $"look {kill}");
            using var service = shop.Start("run");
            service.WaitFor("Watching");
            using var command = shop.Start(
                "review", Setup, "--by", "Bob", "--verdict", "accepted", "--reason", reason);
            _ = command.EndedWithin(TimeSpan.FromMilliseconds(dice.Next(1500)));
            // The service; the command; both.
            if (kill % 3 != 1) service.Kill();
            if (kill % 3 != 0 && !command.HasEnded) command.Kill();
            else if (command.End(TimeSpan.FromMinutes(2)).ExitCode == 0) must.Add(reason);
            else Assert.NotEqual(0, kill % 3);
            if (!service.HasEnded) service.Stop().Exits(0);
            foreach (var path in Directory.Exists(inbox) ? Directory.EnumerateFiles(inbox, "*.act") : [])
                if (File.ReadAllText(path).Contains($"\"{reason}\"", StringComparison.Ordinal)) must.Add(reason);
        }

        shop.Once();
        var kept = shop.List("reviews").Select(row => row.Text("reason")).ToList();
        Assert.Equal(kept.Count, kept.Distinct().Count());
        Assert.Empty(must.Except(kept, StringComparer.Ordinal));
        Assert.Empty(Directory.Exists(inbox) ? Directory.EnumerateFiles(inbox, "*.act") : []);
        TestContext.Current.TestOutputHelper?.WriteLine(FormattableString.Invariant(
            $"{kills} kills, {must.Count} reviews told or handed over, {kept.Count} kept"));
        shop.Run("verify").Exits(0);
        shop.Run("rebuild").Exits(0);
    }
}
