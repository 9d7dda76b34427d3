using System.Text.Json;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>From a file on a share to a message at a receiver, by the built program.</summary>
public sealed class AlertsTests
{
    private static readonly string Shop = Workshop.OneMill.Replace(
        "\"Store\": { \"Folder\": \"audit\" },",
        "\"Store\": { \"Folder\": \"audit\" }, \"Alerts\": { \"Files\": { \"Folder\": \"drop\" } },",
        StringComparison.Ordinal);

    [Fact]
    public void A_finding_arrives_in_the_folder_with_its_sentence_and_only_once()
    {
        using var shop = Workshop.With(Shop);
        // So that what follows is news and no archive of a machine that is looked at for the first time.
        shop.Write("shares/mill-3/offsets/1.nc", "2026-03-02T07:00:00Z", "%\nG10 L2 P1 X-400. Y-200. Z-310.\n%\n");
        shop.Once();
        shop.Write("shares/mill-3/offsets/2.nc", "2026-03-02T07:20:00Z", "%\nG10 L2 P1 X-397. Y-203.\nG10 L2 P0 Z5.\n")
            .Write("shares/mill-3/offsets/3.nc", "2026-03-02T07:25:00Z", "no dump at all \u0001\u0002");
        shop.Run("once");
        shop.Run("once");

        var findings = shop.List("findings").Select(finding => finding.Text("finding")).ToHashSet();
        var files = Directory.GetFiles(shop["drop"], "*.json");
        var sent = files.Select(file => JsonElement.Parse(File.ReadAllText(file))).ToList();
        Assert.NotEmpty(sent);
        Assert.Equal(files.Length, sent.Select(message => message.Text("alert")).Distinct().Count());
        var told = sent.SelectMany(message => message.GetProperty("findings").EnumerateArray()).ToList();
        Assert.All(told, finding => Assert.Contains(finding.Text("finding"), findings));
        Assert.All(told, finding => Assert.NotEqual("", finding.Text("message")));
        Assert.All(sent, message => Assert.Contains("dry run above the part", message.Text("caution")));
        Assert.All(sent, message => Assert.NotEqual("test", message.Text("kind")));
    }
}
