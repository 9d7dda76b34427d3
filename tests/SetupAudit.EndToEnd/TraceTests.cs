using SetupAudit.Demo;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>After a scrap event at the made-up shop: the riser that stayed under the block on 10 March.</summary>
public sealed class TraceTests
{
    [Fact]
    public void The_change_that_explains_the_error_is_named_with_its_window_and_its_cycles()
    {
        using var shop = Audited();

        var trace = shop.Run("trace", "--machine", "mill-3", "--at", "2026-03-10T07:40", "--error", "Z=25.004", "--json")
            .Exits(0).Json;

        Assert.Equal("mill-3@20260310-071200/G54.Z", trace.Items("changes")[0].Text("change"));
        Assert.Equal("2026-03-10T07:12:00Z", trace.Text("window", "from"));
        Assert.Equal("all", trace.Text("cyclesKnown"));
        Assert.Equal(["310-01", "310-02"], trace.Items("cycles").Select(cycle => cycle.Text("serial")));
        // The wrong Z was last shown at 07:16, and put right at 09:40: it may have been changed unseen in between.
        Assert.All(trace.Items("cycles"), cycle => Assert.Equal("maybe", cycle.Text("exposure")));
        Assert.Equal("39-03", trace.Text("lastGood", "serial"));
        Assert.Equal("false", trace.Text("unexplained"));
    }

    [Fact]
    public void An_error_that_no_record_explains_is_said_to_be_so_and_is_no_all_clear()
    {
        using var shop = Audited();

        var page = shop.Run("trace", "--machine", "mill-3", "--at", "2026-03-04T08:00", "--error", "Y=1.73").Exits(0).Output;

        Assert.Contains("NOTHING RECORDED EXPLAINS THIS", page, StringComparison.Ordinal);
        Assert.Contains("never an all-clear", page.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Fact]
    public void The_start_of_the_cycle_may_be_given_as_the_cut()
    {
        using var shop = Audited();

        // X moved between 07:51 and 07:55, within the cycle from 07:46 to 08:04.
        var trace = shop.Run("trace", "--machine", "mill-3", "--at", "2026-03-11T07:46", "--error", "X=0.4", "--json")
            .Exits(0).Json;

        Assert.Equal("mill-3@20260311-075500/G54.X", trace.Items("changes")[0].Text("change"));
        Assert.Equal("2026-03-11T07:46:00Z", trace.Text("at"));
        Assert.Contains("within the cycle from 2026-03-11T07:46:00Z to 2026-03-11T08:04:00Z",
            trace.GetProperty("notRecorded")[0].GetString(), StringComparison.Ordinal);
        var page = shop.Run("trace", "--machine", "mill-3", "--at", "2026-03-11T07:46", "--error", "X=0.4").Exits(0).Output;
        Assert.Contains("within the cycle from 2026-03-11 07:46:00 to 2026-03-11 08:04:00 the feature was cut",
            page.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Fact]
    public void What_no_source_knows_and_a_day_without_a_time_are_told_beside_the_answer()
    {
        using var shop = Audited();

        var page = shop.Run("trace", "--machine", "mill-3", "--at", "2026-03-11", "--error", "X=0.4",
            "--register", "G57", "--program", "O999").Exits(0).Output;

        Assert.Contains("a day alone is taken as its first moment", page, StringComparison.Ordinal);
        Assert.Contains("no source has ever shown G57; shown are COMMON, G54, G55", page, StringComparison.Ordinal);
        Assert.Contains("of mill-3 is known as O999", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--tool", "Tx")]
    [InlineData("--tool", "-1")]
    [InlineData("--error", "Q=1")]
    [InlineData("--error", "X=0,25")]
    [InlineData("--diameter", "0.05")]
    [InlineData("--uncertainty", "0")]
    public void A_faulty_option_is_named_with_what_is_allowed(string option, string value)
    {
        using var shop = Workshop.With(Workshop.OneMill);

        var ran = shop.Run("trace", "--machine", "mill-3", "--at", "2026-03-10T07:40", option, value).Exits(2);

        Assert.Contains(option, ran.Errors, StringComparison.Ordinal);
    }

    private static Workshop Audited()
    {
        var files = DemoShop.Files();
        var shop = Workshop.With(files.Single(file => file.Name == DemoShop.ConfigurationFile).Text);
        foreach (var file in files.Where(file => file.Name != DemoShop.ConfigurationFile))
            shop.Write(file.Name, file.ModifiedUtc.ToString("O"), file.Text);
        shop.Once(exits: 1);
        return shop;
    }
}
