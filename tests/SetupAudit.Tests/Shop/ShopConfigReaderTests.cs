using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using CsCheck;
using SetupAudit.Datums;
using SetupAudit.Support;

namespace SetupAudit.Shop;

public sealed class ShopConfigReaderTests
{
    private static readonly string Folder = Path.GetFullPath("/shop");

    private static readonly JsonSerializerOptions Plain = new()
    {
        WriteIndented = true,
        Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new JsonStringEnumConverter(), new RegisterAsText() },
    };

    public static TheoryData<string> Inputs { get; } = Fixtures.Of("config");

    [Theory]
    [MemberData(nameof(Inputs))]
    public void A_configuration_reads_as_its_pair_says(string name)
    {
        var result = ShopConfigReader.Read(Fixtures.Bytes("config", name), Folder);
        var json = JsonSerializer.Serialize(new
        {
            Faults = result.Faults.Select(Line),
            result.Config,
        }, Plain);
        Fixtures.Expect("config", name, json.Replace(JsonEncodedText.Encode(Folder).ToString(), "/shop"));
    }

    [Fact]
    public void A_place_is_found_for_what_is_not_there()
    {
        var result = ShopConfigReader.Read(Fixtures.Bytes("config", "like.json"), Folder);
        Assert.Equal(new ConfigPlace(9, 18), result.PlaceOf("Machines.mill-3.Watch[0]"));
        Assert.Equal(new ConfigPlace(9, 18), result.PlaceOf("Machines.mill-3.Watch[0].Lines"));
        Assert.Equal(new ConfigPlace(8, 72), result.PlaceOf("Machines.mill-5.ProbeTool"));
        Assert.Equal(new ConfigPlace(1, 1), result.PlaceOf("Nothing.Here"));
    }

    [Fact]
    public void Columns_count_characters_not_bytes()
    {
        var result = ShopConfigReader.Read("{ \"Shop\": { \"Name\": \"Größe\", \"Nmae\": 1 } }"u8, Folder);
        Assert.Contains(result.Faults, fault => fault is { Path: "Shop.Nmae", Line: 1, Column: 30 });
    }

    [Fact]
    public void What_could_be_read_beside_a_fault_is_in_the_draft_only()
    {
        var result = ShopConfigReader.Read(Fixtures.Bytes("config", "faulty.json"), Folder);
        Assert.Null(result.Config);
        Assert.Equal("Harrow Lane Works", result.Draft?.Name);
        Assert.Equal(2, Assert.Single(result.Draft?.Machine("mill-3")?.Parameters ?? [], map => map.First == 1201).Step);
    }

    [Fact]
    public void A_folder_that_is_not_a_full_path_is_our_own_mistake() =>
        Assert.Throws<ArgumentException>(() => ShopConfigReader.Read("{}"u8, "shop"));

    [Fact]
    public void No_bytes_make_it_throw() => Gen.Byte.Array[0, 200].Sample(bytes =>
    {
        var result = ShopConfigReader.Read(bytes, Folder);
        Assert.NotEmpty(result.Faults);
    });

    [Fact]
    public void No_change_to_a_good_configuration_makes_it_throw()
    {
        var good = Fixtures.Bytes("config", "whole.json");
        Gen.Select(Gen.Int[0, good.Length - 1], Gen.Byte, Gen.Int[0, 40]).Sample((at, value, cut) =>
        {
            var changed = good.ToArray();
            changed[at] = value;
            Assert.NotNull(ShopConfigReader.Read(changed, Folder));
            var shorter = (byte[])[.. good[..at], .. good[Math.Min(at + cut, good.Length)..]];
            Assert.NotNull(ShopConfigReader.Read(shorter, Folder));
        });
    }

    [Fact]
    public void Every_value_of_a_wrong_kind_is_a_fault_and_none_throws()
    {
        var good = Encoding.UTF8.GetString(Fixtures.Bytes("config", "whole.json"));
        string[] odd =
            ["null", "[]", "{}", "-1", "1e999", "\"\"", "\"\\u0000\"", "[[[]]]", "{\"\":{}}", "true"];
        Gen.Select(Gen.Int[0, good.Length - 1], Gen.Int[0, odd.Length - 1]).Sample((at, chosen) =>
        {
            var colon = good.IndexOf(": ", at, StringComparison.Ordinal);
            if (colon < 0) return;
            var end = good.IndexOfAny([',', '}', '\n'], colon);
            var changed = string.Concat(good.AsSpan(0, colon + 2), odd[chosen], good.AsSpan(end));
            Assert.NotNull(ShopConfigReader.Read(Encoding.UTF8.GetBytes(changed), Folder));
        });
    }

    [Fact]
    public void A_file_of_faults_ends_in_a_thousand_of_them()
    {
        var keys = string.Join(", ", Enumerable.Range(0, 5000).Select(number => $"\"k{number}\": 0"));
        Assert.Equal(1000, ShopConfigReader.Read(Encoding.UTF8.GetBytes($"{{ {keys} }}"), Folder).Faults.Count);
    }

    private static string Line(ConfigFault fault) => $"{fault.Line}:{fault.Column} {fault.Path}: {fault.Message}";

    private sealed class RegisterAsText : JsonConverter<Register>
    {
        public override Register Read(ref Utf8JsonReader reader, Type type, JsonSerializerOptions options) =>
            throw new NotSupportedException("only written");

        public override void Write(Utf8JsonWriter writer, Register value, JsonSerializerOptions options) =>
            writer.WriteStringValue(value.ToString());
    }
}
