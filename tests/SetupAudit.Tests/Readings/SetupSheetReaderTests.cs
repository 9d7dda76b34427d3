using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using CsCheck;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Support;

namespace SetupAudit.Readings;

public sealed class SetupSheetReaderTests
{
    private static readonly DateTimeOffset Modified = new(2026, 3, 2, 7, 0, 0, TimeSpan.Zero);

    private static readonly JsonSerializerOptions Plain = new()
    {
        WriteIndented = true,
        Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new JsonStringEnumConverter(), new RegisterAsText() },
    };

    public static TheoryData<string> Inputs { get; } = Fixtures.Of("sheet");

    [Theory]
    [MemberData(nameof(Inputs))]
    public void A_setup_sheet_reads_as_its_pair_says(string name)
    {
        var result = SetupSheetReader.Read(Fixtures.Bytes("sheet", name), $"sheets/{name}", "ab12", Modified);
        Fixtures.Expect("sheet", name, JsonSerializer.Serialize(result, Plain));
    }

    [Fact]
    public void A_file_too_large_for_a_sheet_is_not_read()
    {
        var result = SetupSheetReader.Read(new byte[1024 * 1024 + 1], "O1.json", "ab12", Modified);
        Assert.Equal(new Fault(0, 0, "the file is larger than 1 MB; this is no setup sheet"), Assert.Single(result.Faults));
        Assert.Equal(ArrivalStatus.Unreadable, result.Status);
    }

    [Fact]
    public void Every_place_on_the_stock_is_known()
    {
        foreach (var depth in (string[])["front", "back", "centre"])
            foreach (var side in (string[])["left", "right", "centre"])
                foreach (var height in (string[])["top", "bottom"])
                {
                    var json = $$"""{ "Units": "mm", "Datums": [ { "Register": "G54", "At": "{{depth}}-{{side}}-{{height}}" } ] }""";
                    var result = SetupSheetReader.Read(Encoding.UTF8.GetBytes(json), "O1.json", "ab12", Modified);
                    Assert.Empty(result.Faults);
                    Assert.Equal($"{depth}-{side}-{height}", Assert.Single(result.Readings).Datums[0].At);
                }
    }

    [Fact]
    public void A_hundred_thousand_keys_are_told_in_time_that_grows_with_them()
    {
        var keys = string.Join(',', Enumerable.Range(0, 100_000).Select(number => $"\"{number}\":0"));
        var result = SetupSheetReader.Read(Encoding.UTF8.GetBytes($"{{{keys}}}"), "O1.json", "ab12", Modified);
        Assert.Equal(1000, result.Faults.Count);
    }

    [Fact]
    public void Deep_nesting_is_a_fault()
    {
        var json = "{ \"Units\": \"mm\", \"Part\": " + new string('[', 20_000);
        var result = SetupSheetReader.Read(Encoding.UTF8.GetBytes(json), "O1.json", "ab12", Modified);
        Assert.Contains("is not JSON from here on: The maximum configured depth of 64", Assert.Single(result.Faults).Reason);
        Assert.Single(result.Readings);
    }

    [Fact]
    public void No_bytes_make_it_throw()
    {
        Gen.Byte.Array[0, 200].Sample(bytes => { Assert.NotEmpty(SetupSheetReader.Read(bytes, "a", "ab12", Modified).Faults); });
        var good = Fixtures.Bytes("sheet", "O2041.json");
        Gen.Select(Gen.Int[0, good.Length - 1], Gen.Byte, Gen.Int[0, 30]).Sample((at, value, cut) =>
        {
            byte[] changed = [.. good[..at], value, .. good[Math.Min(at + cut, good.Length)..]];
            Assert.NotNull(SetupSheetReader.Read(changed, "a", "ab12", Modified));
        });
    }

    [Fact]
    public void A_sheet_cut_anywhere_says_nothing_that_the_whole_does_not_say()
    {
        var good = Fixtures.Bytes("sheet", "O2041.json");
        var whole = Assert.Single(SetupSheetReader.Read(good, "O2041.json", "ab12", Modified).Readings);
        for (var length = 0; length < good.Length - 2; length++)
        {
            var result = SetupSheetReader.Read(good.AsSpan(0, length), "O2041.json", "ab12", Modified);
            Assert.Single(result.Faults);
            foreach (var sheet in result.Readings)
            {
                Assert.Contains(sheet.StockZ, (decimal?[])[null, whole.StockZ]);
                Assert.Equal(Json(whole.Datums.Take(sheet.Datums.Count)), Json(sheet.Datums));
                Assert.Equal(whole.Tools.Take(sheet.Tools.Count), sheet.Tools);
                Assert.Equal(Json(whole.Measured.Take(sheet.Measured.Count)), Json(sheet.Measured));
            }
        }
    }

    private static string Json(object value) => JsonSerializer.Serialize(value, Plain);

    private sealed class RegisterAsText : JsonConverter<Register>
    {
        public override Register Read(ref Utf8JsonReader reader, Type type, JsonSerializerOptions options) =>
            throw new NotSupportedException("only written");

        public override void Write(Utf8JsonWriter writer, Register value, JsonSerializerOptions options) =>
            writer.WriteStringValue(value.ToString());
    }
}
