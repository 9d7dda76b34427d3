using SetupAudit.Support;

namespace SetupAudit.Alerts;

/// <summary>What a person asks of alerts while a service holds the store is done by the service.</summary>
public sealed class AskedServiceTests
{
    [Fact]
    public void A_quiet_time_asked_for_beside_a_service_is_kept_listed_and_can_be_ended()
    {
        using var shop = Workshop.With(Workshop.OneMill.Replace("\"PrintOuts\"",
            "\"Alerts\": { \"Files\": { \"Folder\": \"drop\" } },\n  \"Web\": { \"Url\": \"http://127.0.0.1:0\" },\n  \"PrintOuts\"",
            StringComparison.Ordinal));
        Directory.CreateDirectory(shop["drop"]);
        shop.Once();
        using var service = shop.Start("run");
        service.WaitFor("Watching");

        shop.Run("alerts", "quiet", "--machine", "mill-3", "--until", "2999-01-01T00:00:00Z", "--by", "Ann Reed",
            "--reason", "being moved").Exits(0);

        var listed = shop.Run("alerts", "quiet", "--list").Exits(0).Output;
        Assert.Contains("Ann Reed", listed, StringComparison.Ordinal);
        Assert.Contains("being moved", listed, StringComparison.Ordinal);
        Assert.Contains("No message is on the dead list",
            shop.Run("alerts", "resend", "--dead").Output + shop.Run("alerts", "resend", "--dead").Errors,
            StringComparison.Ordinal);
        Assert.Empty(Directory.EnumerateFiles(shop["audit/asked"]));
        service.Stop().Exits(0);
        shop.Run("verify").Exits(0);
    }
}
