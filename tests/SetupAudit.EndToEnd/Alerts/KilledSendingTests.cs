using System.Globalization;
using System.Text.Json;
using SetupAudit.Support;

namespace SetupAudit.Alerts;

/// <summary>
/// The program is killed while it records, puts up, sends and says what came of it, against a receiver that is well,
/// answers with faults, or not at all: nothing is lost, and what comes twice has the same id. SETUPAUDIT_KILLS sets how
/// often; the nightly run has 500.
/// </summary>
public sealed class KilledSendingTests
{
    private const int Usual = 15;

    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    [Fact]
    public void Nothing_is_lost_and_what_comes_twice_has_the_same_id()
    {
        using var receiver = new FickleReceiver();
        using var shop = Workshop.With(Configuration(receiver));
        var start = DateTimeOffset.UtcNow.AddHours(-2 * 1000);
        Dump(shop, 0, start);
        shop.Once();
        var kills = int.TryParse(
            Environment.GetEnvironmentVariable("SETUPAUDIT_KILLS"), CultureInfo.InvariantCulture, out var wanted) ? wanted : Usual;
        var dice = new Random(kills);
        for (var kill = 1; kill <= kills; kill++)
        {
            Dump(shop, kill, start);
            Drain(receiver.Read);
            Drain(receiver.Answered);
            KillOnce(shop, receiver, kill % 5, dice);
        }

        receiver.Answers = () => 204;
        for (var more = 0; more < 3; more++) shop.Once();
        var alerts = shop.List("alerts").Where(alert => alert.GetProperty("rule").GetString() == "over-limit").ToList();
        Assert.Equal(kills, alerts.Count);
        Assert.All(alerts, alert => Assert.Equal("sent", alert.GetProperty("status").GetString()));
        var calls = receiver.Calls;
        Assert.All(alerts, alert => Assert.Contains(calls, call =>
            call.Body.Contains($"\"{alert.GetProperty("finding").GetString()}\"", StringComparison.Ordinal)));
        Assert.All(calls, call => Assert.NotEqual("", call.Id));
        // A finding is told under one id for ever, however often its message came.
        Assert.All(alerts, alert => Assert.Single(calls
            .Where(call => call.Body.Contains($"\"{alert.GetProperty("finding").GetString()}\"", StringComparison.Ordinal))
            .Select(call => call.Id).Distinct()));
        TestContext.Current.TestOutputHelper?.WriteLine(FormattableString.Invariant(
            $"{kills} kills, {alerts.Count} findings, {calls.Count} calls, {calls.Select(call => call.Id).Distinct().Count()} ids"));
        shop.Run("verify").Exits(0);
    }

    // Killed at a random moment; as the call is read; once it is answered; as it is answered with a fault; while the
    // receiver stays silent.
    private static void KillOnce(Workshop shop, FickleReceiver receiver, int mode, Random dice)
    {
        receiver.Answers = mode switch
        {
            1 or 4 => () => 0,
            3 => () => 503,
            _ => () => 204,
        };
        using var running = shop.Start("once");
        if (mode == 0) _ = running.EndedWithin(TimeSpan.FromMilliseconds(dice.Next(200, 1500)));
        else _ = (mode is 2 or 3 ? receiver.Answered : receiver.Read).Wait(Patience, TestContext.Current.CancellationToken);
        if (mode == 4) _ = running.EndedWithin(TimeSpan.FromMilliseconds(dice.Next(100)));
        if (!running.HasEnded) running.Kill();
    }

    private static void Drain(SemaphoreSlim bell)
    {
        while (bell.Wait(TimeSpan.Zero, TestContext.Current.CancellationToken))
        {
        }
    }

    // Each dump is a setup of its own, two hours after the one before, and moves Z beyond the limit.
    private static void Dump(Workshop shop, int number, DateTimeOffset start) => shop.Write(
        FormattableString.Invariant($"shares/mill-3/offsets/{number:0000}.nc"),
        start.AddHours(2 * number).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture),
        FormattableString.Invariant($"%\nG10 L2 P1 X-400.000 Y-200.000 Z{(number % 2 == 0 ? -300 : -305)}.000\n%\n"));

    private static string Configuration(FickleReceiver receiver) => $$"""
        {
          "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Europe/London" },
          "Store": { "Folder": "audit" },
          "Machines": { "mill-3": { "Kind": "mill", "Units": "mm",
            "Watch": [ { "Folder": "shares/mill-3/offsets", "Files": "*.nc", "Read": "data-setting" } ] } },
          "Rules": { "axis-not-set": "off", "implausible-jump": "off", "values-restored": "off" },
          "Limits": [ { "Register": "G54", "Axis": "Z", "Change": 1 } ],
          "Alerts": { "Most": 10000, "Webhook": { "Url": {{JsonSerializer.Serialize(receiver.Url)}} } }
        }
        """;
}
