using SetupAudit.Support;

namespace SetupAudit.Days;

/// <summary>What <c>ready</c> says of a datum that an earlier setup left, through the built program.</summary>
public sealed class ReadyAfterAnEarlierSetupTests
{
    private const string Old = "L2 P1 X-400. Y-200. Z-300.; L10 P3 R120.; L11 P3 R0.";

    [Fact]
    public void A_datum_that_moved_in_yesterdays_cycle_still_stands_against_todays()
    {
        using var day = Moved().Set("03 07:00", "G54", "X -410.", "Y -205.").Once();

        Assert.Contains("changed-while-cutting G54.Z", Ready(day));
    }

    [Fact]
    public void One_that_was_set_anew_since_stands_against_nothing()
    {
        using var day = Moved().Set("03 07:00", "G54", "X -410.", "Y -205.", "Z -310.").Once();

        Assert.DoesNotContain("changed-while-cutting G54.Z", Ready(day));
    }

    [Fact]
    public void A_file_that_could_not_be_read_since_the_last_word_is_told()
    {
        using var day = Moved().Set("03 07:00", "G54", "X -410.", "Y -205.", "Z -310.").Dump("03 07:30", "L2 P1 X--5");
        day.Shop.Once(exits: 1);

        var ready = day.Shop.Run("ready", "--machine", "mill-3", "--program", "O2041", "--json").Exits(1).Json;

        Assert.Contains(ready.GetProperty("unknown").EnumerateArray(), reason =>
            (reason.GetString() ?? "").StartsWith("since the last word a file could not be read whole", StringComparison.Ordinal));
    }

    private static MillDay Moved() => new MillDay().Program("01 12:00", "O2041", MillDay.Cutting("O2041", "G54"))
        .Dump("02 06:00", Old).Set("02 07:00", "G54", "X -410.", "Y -205.", "Z -310.")
        .Print("02 08:00", "CYCLE START O2041").Dump("02 08:02", "L2 P1 X-410. Y-205. Z-310.")
        .Dump("02 08:10", "L2 P1 X-410. Y-205. Z-309.6").Print("02 08:20", "CYCLE END");

    private static IEnumerable<string> Ready(MillDay day) =>
        day.Shop.Run("ready", "--machine", "mill-3", "--program", "O2041", "--json").Exits(1).Json.Items("findings")
            .Select(finding => $"{finding.Text("rule")} {finding.Text("register")}.{finding.Text("axis")}");
}
