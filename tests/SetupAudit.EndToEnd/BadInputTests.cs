using System.Text;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>Bad input through the built program: told with line, column and reason, a finding, the others unharmed,
/// exit status 1.</summary>
public sealed class BadInputTests
{
    private const string Good = "%\nG21 G90\nG10 L2 P1 X-410. Y-205. Z-310.\nM30\n%\n";
    private const string Dumps = "shares/mill-3/offsets/";

    public static TheoryData<string, string, int, int> Broken => new()
    {
        { "empty", "", 0, 0 },
        { "NULs only", "\0\0\0\0\0\0\0\0", 0, 0 },
        { "cut in the middle of a line", "%\nG21 G90\nG10 L2 P1 X-1. Y-2. Z-3.\nG10 L2 P2 X-1. Y", 4, 17 },
        { "cut in the middle of a number", "%\nG21 G90\nG10 L2 P1 X-1. Y-2. Z-3.\nG10 L2 P2 X-1. Y-20", 4, 0 },
        { "a register far too large", "G10 L2 P99999999999 X1.\n", 1, 8 },
        { "an exponent", "G10 L2 P1 X1e999\n", 1, 0 },
        { "two signs", "G10 L2 P1 X--5\n", 1, 13 },
        { "a point alone", "G10 L2 P1 Z.\n", 1, 13 },
        { "brackets that never close", "G10 L2 P1 X[1+2\n", 1, 12 },
        { "a comment that never closes", "G10 L2 P1 X1. (no end\n", 1, 0 },
    };

    [Theory]
    [MemberData(nameof(Broken))]
    public void A_broken_dump_is_told_and_harms_no_other(string what, string text, int line, int column)
    {
        using var shop = Workshop.With(Workshop.OneMill).Write(Dumps + "good.nc", "2026-03-02T07:00:00Z", Good)
            .Write(Dumps + "bad.nc", "2026-03-02T07:30:00Z", text);

        shop.Once(exits: 1);

        Told(shop, "bad.nc", what);
        var bad = shop.List("arrivals").Single(
            arrival => arrival.Text("file") is { } file && file.EndsWith("bad.nc", StringComparison.Ordinal));
        Assert.Equal(line, int.Parse(bad.Text("line") ?? "0"));
        if (column > 0) Assert.Equal(column, int.Parse(bad.Text("column") ?? "0"));
        Unharmed(shop);
    }

    [Fact]
    public void Utf_16_with_and_without_a_mark_and_even_parity_are_read()
    {
        var even = Encoding.ASCII.GetBytes(Good.Replace("410", "411", StringComparison.Ordinal))
            .Select(value => (byte)(int.PopCount(value) % 2 == 0 ? value : value | 0x80)).ToArray();
        using var shop = Workshop.With(Workshop.OneMill)
            .Write(Dumps + "a.nc", "2026-03-02T07:00:00Z", [0xFF, 0xFE, .. Encoding.Unicode.GetBytes(Good)])
            .Write(Dumps + "b.nc", "2026-03-02T07:10:00Z", Encoding.BigEndianUnicode.GetBytes(Good))
            .Write(Dumps + "c.nc", "2026-03-02T07:20:00Z", even);

        shop.Once();

        Assert.Equal("-411", Assert.Single(
            shop.List("changes"), change =>
                change.Text("axis") == "X" && change.Text("before") is not null).Text("after"));
    }

    [Fact]
    public void A_line_of_300_megabytes_is_told_in_bounded_memory()
    {
        using var shop = Workshop.With(Workshop.OneMill).Write(Dumps + "good.nc", "2026-03-02T07:00:00Z", Good)
            .Write(Dumps + "bad.nc", "2026-03-02T07:30:00Z", "G10 L2 P1 X1.\n");
        using (var file = new FileStream(shop[Dumps + "bad.nc"], FileMode.Append))
        {
            var block = Enumerable.Repeat((byte)'9', 1 << 20).ToArray();
            for (var i = 0; i < 300; i++) file.Write(block);
        }
        File.SetLastWriteTimeUtc(shop[Dumps + "bad.nc"], new DateTime(2026, 3, 2, 7, 30, 0, DateTimeKind.Utc));

        shop.Once(exits: 1);

        Told(shop, "bad.nc", "300 MB line");
        Unharmed(shop);
    }

    [Theory]
    [InlineData("parentheses", '(')]
    [InlineData("brackets", '[')]
    public void Twenty_thousand_nested_openings_are_told(string what, char opening)
    {
        using var shop = Workshop.With(Workshop.OneMill).Write(Dumps + "good.nc", "2026-03-02T07:00:00Z", Good)
            .Write(Dumps + "bad.nc", "2026-03-02T07:30:00Z", "G10 L2 P1 X" + new string(opening, 20_000) + "1\n");

        shop.Once(exits: 1);

        Told(shop, "bad.nc", what);
        Unharmed(shop);
    }

    [Fact]
    public void A_division_by_zero_in_a_program_is_told_and_leaves_the_value_unknown()
    {
        using var shop = Workshop.With(Workshop.OneMill).Write(Dumps + "good.nc", "2026-03-02T07:00:00Z", Good)
            .Write("shares/mill-3/programs/bad.nc", "2026-03-02T06:30:00Z",
                "%\nO77 (BAD)\nG21 G90\nG10 L2 P1 X[1/0]\nG54 G1 X1. F100.\nM30\n%\n");

        shop.Once(exits: 1);

        Told(shop, "bad.nc", "division by zero");
        var write = Assert.Single(Assert.Single(shop.List("programs")).Items("writes"));
        Assert.Null(write.Text("value"));
    }

    [Fact]
    public void A_directory_named_like_a_dump_is_told()
    {
        using var shop = Workshop.With(Workshop.OneMill).Write(Dumps + "good.nc", "2026-03-02T07:00:00Z", Good);
        Directory.CreateDirectory(shop[Dumps + "folder.nc"]);

        shop.Once(exits: 1);

        Told(shop, "folder.nc", "a directory");
        Unharmed(shop);
    }

    [Fact]
    public void A_link_out_of_the_folder_is_not_followed()
    {
        using var shop = Workshop.With(Workshop.OneMill).Write(Dumps + "good.nc", "2026-03-02T07:00:00Z", Good)
            .Write("elsewhere/secret.nc", "2026-03-02T07:30:00Z", "%\nG21 G90\nG10 L2 P1 X-1. Y-1. Z-1.\nM30\n%\n");
        File.CreateSymbolicLink(shop[Dumps + "link.nc"], shop["elsewhere/secret.nc"]);

        shop.Once(exits: 1);

        Told(shop, "link.nc", "a link");
        Assert.DoesNotContain(shop.List("changes"), change => change.Text("after") == "-1");
        Unharmed(shop);
    }

    [Fact]
    public void A_file_cut_off_and_then_written_whole_is_read_whole()
    {
        using var shop = Workshop.With(Workshop.OneMill).Write(Dumps + "d.nc", "2026-03-02T07:00:00Z", Good[..40]);
        shop.Once(exits: 1);

        shop.Write(Dumps + "d.nc", "2026-03-02T07:10:00Z", Good);
        shop.Once();

        Assert.Equal("-310", shop.State("mill-3", "2026-03-02T08:00:00Z").Items("registers")[0].Text(
            "axes", "Z", "value"));
    }

    private static void Told(Workshop shop, string file, string what)
    {
        var arrival = shop.List("arrivals")
            .FirstOrDefault(item => item.Text("file") is { } name && name.EndsWith(file, StringComparison.Ordinal));
        Assert.True(arrival.Text("status") is "partial" or "unreadable", $"{what}: {arrival}");
        Assert.False(string.IsNullOrWhiteSpace(arrival.Text("reason")), $"{what}: {arrival}");
        Assert.Contains(shop.List("findings"), finding => finding.Text("rule") == "unreadable"
            && finding.Text("severity") == "high");
    }

    private static void Unharmed(Workshop shop) =>
        Assert.Equal("-310", shop.State("mill-3", "2026-03-02T07:15:00Z").Items("registers")[0].Text(
            "axes", "Z", "value"));
}
