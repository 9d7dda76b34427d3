using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Shapes;

public sealed class CoverageTests
{
    [Fact]
    public void A_dump_tells_values_and_neither_who_nor_when_between_two()
    {
        var view = Of(new WatchConfig
        {
            Index = 0,
            Folder = "offsets",
            FullFolder = "/offsets",
            Files = "*.nc",
            Read = SourceKind.DataSetting,
        });

        Assert.Equal("offsets/*.nc", view.Source);
        Assert.Equal(["registers", "tools"], view.Tells);
        Assert.Contains("by whom or by what a value was changed", view.CannotTell);
    }

    [Fact]
    public void A_print_out_tells_what_its_patterns_mean_and_not_the_rest()
    {
        var view = Of(new WatchConfig
        {
            Index = 0,
            Folder = "prints",
            FullFolder = "/prints",
            Files = "*.log",
            Read = SourceKind.PrintOut,
            Lines = "shop",
        });

        Assert.Equal(["cycle-start", "measured"], view.Tells);
        Assert.Contains("when a cycle ends", view.CannotTell);
        Assert.DoesNotContain("when a cycle starts", view.CannotTell);
    }

    [Fact]
    public void Files_that_wait_to_be_loaded_prove_no_state()
    {
        var view = Of(new WatchConfig
        {
            Index = 0,
            Folder = "o",
            FullFolder = "/o",
            Files = "*",
            Read = SourceKind.DataSetting,
            IsToLoad = true,
        });

        Assert.Contains("what the control holds", view.CannotTell);
    }

    private static CoverageView Of(WatchConfig watch)
    {
        var machine = new MachineConfig { Name = "mill-3", Kind = MachineKind.Mill, Units = Unit.Millimetre, Watch = [watch] };
        var shop = new ShopConfig
        {
            Name = "Harrow Lane Works",
            TimeZone = "Europe/London",
            Store = new StoreConfig("audit", null),
            Machines = [machine],
            PrintOuts = new Dictionary<string, PrintOutConfig>
            {
                ["shop"] = new()
                {
                    Name = "shop",
                    Lines = [new() { Match = "a", Means = "cycle-start" }, new() { Match = "b", Means = "measured" }],
                },
            },
        };
        return Coverage.Of(shop, machine, watch, null);
    }
}
