using System.Text.Json;
using SetupAudit.Support;

namespace SetupAudit;

public sealed class CommandsTests
{
    private static Workshop ForgottenZ() => Workshop.With(Workshop.OneMill)
        .Write("shares/mill-3/programs/O2041.nc", "2026-03-01T12:00:00Z",
            "%\nO2041 (PUMP COVER)\nG21 G90 G54\nT3 M6\nG43 H3\nG0 X0 Y0 Z50.\nG1 Z-5. F200.\nM30\n%\n")
        .Write("shares/mill-3/offsets/dump-1.nc", "2026-03-02T07:00:00Z", "G10 L2 P1 X-310.200 Y-205. Z-300.\n")
        .Write("shares/mill-3/prints/day.log", "2026-03-02T07:40:00Z",
            "2026-03-02 07:10:00 SET G54 X -312.250\n2026-03-02 07:10:00 SET G54 Y -203.118\n"
            + "2026-03-02 07:20:00 CYCLE START O2041\n2026-03-02 07:40:00 CYCLE END O2041\n");

    [Fact]
    public void A_forgotten_z_is_found_reported_and_stands_against_cutting()
    {
        using var shop = ForgottenZ();
        shop.Once();

        Assert.Contains("axis-not-set", shop.Rules());
        var setup = Assert.Single(shop.List("setups"));
        Assert.Equal("-312.250", setup.Items("registers")[0].Text("axes", "X", "after"));
        Assert.Equal("false", setup.Items("registers")[0].Text("axes", "Z", "set"));
        shop.Run("report", setup.Text("setup") ?? "", "--out", shop["r.html"]).Exits(0);
        Assert.Contains("NOT SET", File.ReadAllText(shop["r.html"]), StringComparison.Ordinal);
        Assert.NotEqual("nothing-found", shop.Run("ready", "--machine", "mill-3", "--json").Exits(1).Json.Text("verdict"));
        shop.Run("rebuild").Exits(0);
    }

    [Fact]
    public void The_service_watches_beside_the_lists_and_stops_when_asked_to()
    {
        using var shop = ForgottenZ().Configure(Workshop.OneMill.Replace(
            "\"PrintOuts\":", "\"Web\": { \"Url\": \"http://127.0.0.1:0\" }, \"PrintOuts\":", StringComparison.Ordinal));
        using var service = shop.Start("run");
        service.WaitFor("arrivals of mill-3");
        shop.Run("list", "setups", "--json").Exits(0);
        Assert.Contains("One service writes a store at a time", shop.Run("once").Exits(2).Errors, StringComparison.Ordinal);
        service.Stop().Exits(0);
    }

    [Fact]
    public void A_folder_that_took_the_place_of_another_does_not_have_its_last_word()
    {
        using var shop = ForgottenZ();
        shop.Once();
        Assert.Equal("2026-03-02T07:00:00Z", Last());

        shop.Configure(Workshop.OneMill.Replace("mill-3/offsets", "mill-3/dumps", StringComparison.Ordinal));
        Assert.Null(Last());
        shop.Write("shares/mill-3/dumps/dump-1.nc", "2026-03-02T06:00:00Z", "G10 L2 P1 X-310.200 Y-205. Z-300.\n").Once();
        Assert.Equal("2026-03-02T06:00:00Z", Last());

        string? Last() => shop.List("coverage")[0].Text("last");
    }

    [Fact]
    public void An_arrival_that_cannot_be_read_ends_with_1_and_is_listed_with_its_place()
    {
        using var shop = ForgottenZ().Write(
            "shares/mill-3/offsets/broken.nc", "2026-03-02T08:00:00Z", "%\nG10 L2 P1 X--5\n%\n");
        shop.Once(exits: 1);
        var arrival = Assert.Single(shop.List("arrivals"), row => row.Text("status") != "read");
        Assert.Equal("2", arrival.Text("line"));
        Assert.NotEqual(JsonValueKind.Null, arrival.GetProperty("reason").ValueKind);
    }
}
