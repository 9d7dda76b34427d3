using System.Globalization;
using SetupAudit.Demo;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>The key Causes: how often a shop meets each ordinary mistake, against the others.</summary>
public sealed class CausesTests
{
    [Fact]
    public void A_weight_that_the_shop_sets_moves_the_ranking_as_the_page_says()
    {
        // On 10 March a 25 mm riser stayed under the block; a lift of 25 mm left in would have left the same Z.
        var (riser, lift) = Ranked("");
        var (riserAfter, liftAfter) = Ranked("\"Causes\": { \"lift-left-in\": 500 },");

        Assert.True(riser > 0.9m, $"{riser}");
        Assert.True(liftAfter > riserAfter, $"{liftAfter} and {riserAfter}");
        // Each counts 1 where nothing is set: 500 against 1 makes the odds between the two 500 times what they were.
        Assert.InRange(liftAfter / riserAfter / (lift / riser), 400m, 600m);
    }

    [Fact]
    public void Weights_that_cannot_be_are_refused_with_line_and_reason()
    {
        using var shop = Workshop.With(Workshop.OneMill.TrimEnd()[..^1] + ",\n\"Causes\": { \"riser-height\": 0, \"riser\": 2 } }");

        var ran = shop.Run("check").Exits(2);

        var line = Workshop.OneMill.TrimEnd().Split('\n').Length + 1;
        Assert.Contains($":{line}:29 Causes.riser-height: 0 is not allowed; use a number above 0", ran.Errors, StringComparison.Ordinal);
        Assert.Contains("Causes.riser: \"riser\" is not a key here", ran.Errors, StringComparison.Ordinal);
        Assert.Contains("riser-height", ran.Errors, StringComparison.Ordinal);
    }

    private static (decimal Riser, decimal Lift) Ranked(string causes)
    {
        var files = DemoShop.Files();
        var config = files.Single(file => file.Name == DemoShop.ConfigurationFile).Text;
        using var shop = Workshop.With(config.Insert(config.IndexOf('{', StringComparison.Ordinal) + 1, causes));
        foreach (var file in files.Where(file => file.Name != DemoShop.ConfigurationFile))
            shop.Write(file.Name, file.ModifiedUtc.ToString("O"), file.Text);
        shop.Once(exits: 1);
        var finding = shop.Run("list", "findings", "--machine", "mill-3", "--json").Exits(0).Json.Items()
            .Single(item => item.Text("finding") == "mill-3@20260310-070800/implausible-jump/G54.Z");
        decimal Of(string cause) => finding.Items("causes").Where(item => item.Text("cause") == cause)
            .Select(item => decimal.Parse(item.Text("probability") ?? "", CultureInfo.InvariantCulture)).FirstOrDefault();
        return (Of("riser-height"), Of("lift-left-in"));
    }
}
