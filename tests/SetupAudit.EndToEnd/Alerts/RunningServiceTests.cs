using System.Globalization;
using System.Text.Json;
using SetupAudit.Support;

namespace SetupAudit.Alerts;

/// <summary>The service itself: what a dump brings is sent while it runs, and not again after it was started anew.</summary>
public sealed class RunningServiceTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);
    private static readonly DateTimeOffset Start = DateTimeOffset.UtcNow.AddHours(-10);

    [Fact]
    public void What_was_sent_is_not_sent_again_after_a_stop_and_a_new_start()
    {
        using var receiver = new FickleReceiver();
        using var shop = Workshop.With(Configuration(receiver));
        Dump(shop, 0);
        shop.Once();
        using (var service = shop.Start("run"))
        {
            service.WaitFor("Watching");
            Dump(shop, 1);
            Assert.True(receiver.Answered.Wait(Patience, TestContext.Current.CancellationToken), service.Written());
            service.WaitFor("Sent the message");
            service.Stop().Exits(0);
        }
        using (var service = shop.Start("run"))
        {
            service.WaitFor("Watching");
            Dump(shop, 2);
            // Were the first to be sent again, it would go before this one, for it was put up before.
            Assert.True(receiver.Answered.Wait(Patience, TestContext.Current.CancellationToken), service.Written());
            service.WaitFor("Sent the message");
            service.Stop().Exits(0);
        }

        Assert.Equal(2, receiver.Calls.Count);
        Assert.Equal(2, receiver.Calls.Select(call => call.Id).Distinct().Count());
        Assert.Equal(
            shop.List("alerts").Select(row => row.Text("finding")).Order(),
            receiver.Calls.SelectMany(call => JsonElement.Parse(call.Body).GetProperty("data").GetProperty("findings")
                .EnumerateArray().Select(finding => finding.Text("finding"))).Order());
        shop.Run("verify").Exits(0);
    }

    [Fact]
    public void What_the_receiver_would_not_take_before_the_stop_goes_after_it_under_the_same_id()
    {
        using var receiver = new FickleReceiver { Answers = () => 503 };
        using var shop = Workshop.With(Configuration(receiver));
        Dump(shop, 0);
        shop.Once();
        Dump(shop, 1);
        using (var service = shop.Start("run"))
        {
            Assert.True(receiver.Answered.Wait(Patience, TestContext.Current.CancellationToken), service.Written());
            service.WaitFor("is tried again");
            service.Stop().Exits(0);
        }
        receiver.Answers = () => 204;
        using (var service = shop.Start("run"))
        {
            service.WaitFor("Sent the message", Patience);
            service.Stop().Exits(0);
        }

        Assert.Single(receiver.Calls.Select(call => call.Id).Distinct());
        Assert.Equal("sent", Assert.Single(shop.List("alerts")).Text("status"));
    }

    private static void Dump(Workshop shop, int number) => shop.Write(
        FormattableString.Invariant($"shares/mill-3/{number}.nc"),
        Start.AddHours(2 * number).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture),
        FormattableString.Invariant($"%\nG10 L2 P1 X-400.000 Y-200.000 Z{(number % 2 == 0 ? -300 : -305)}.000\n%\n"));

    private static string Configuration(FickleReceiver receiver) => $$"""
        {
          "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Europe/London" },
          "Store": { "Folder": "audit" },
          "Machines": { "mill-3": { "Kind": "mill", "Units": "mm",
            "Watch": [ { "Folder": "shares/mill-3", "Files": "*.nc", "Read": "data-setting" } ] } },
          "Rules": { "axis-not-set": "off", "implausible-jump": "off", "values-restored": "off", "lift": "off" },
          "Limits": [ { "Register": "G54", "Axis": "Z", "Change": 1 } ],
          "Alerts": { "Webhook": { "Url": {{JsonSerializer.Serialize(receiver.Url)}} } },
          "Web": { "Url": "http://127.0.0.1:0" }
        }
        """;
}
