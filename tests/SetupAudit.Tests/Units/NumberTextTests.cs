using System.Globalization;
using System.Text;
using CsCheck;

namespace SetupAudit.Units;

public sealed class NumberTextTests
{
    [Theory]
    [InlineData("-310.2000", "-310.2000")]
    [InlineData("+5", "5")]
    [InlineData("007", "7")]
    [InlineData(".5", "0.5")]
    [InlineData("-.50", "-0.50")]
    [InlineData("4.", "4")]
    [InlineData("-0.0", "0.0")]
    [InlineData(" - 1 2 . 3 4 ", "-12.34")]
    [InlineData("12345678901234567", "12345678901234567")]
    [InlineData("0.00000000000000001", "0.00000000000000001")]
    public void A_number_keeps_its_digits(string text, string value) => Assert.Equal(value, Shown(Parsed(text)));

    [Theory]
    [InlineData("")]
    [InlineData(" ")]
    [InlineData("-")]
    [InlineData(".")]
    [InlineData("--5")]
    [InlineData("1.2.3")]
    [InlineData("5-")]
    [InlineData("1e5")]
    [InlineData("1,5")]
    [InlineData("123456789012345678")]
    [InlineData("0.000000000000000001")]
    public void What_is_no_number_is_refused(string text) =>
        Assert.False(NumberText.TryParse(Encoding.ASCII.GetBytes(text), out _));

    [Fact]
    public void Digits_and_scale_go_there_and_back() =>
        Gen.Select(Gen.Long[-99_999_999_999, 99_999_999_999], Gen.Int[0, 6]).Sample((digits, scale) =>
        {
            var value = new decimal(digits) / (decimal)Math.Pow(10, scale) + new decimal(0, 0, 0, false, (byte)scale);
            Assert.Equal(Shown(value), Shown(Parsed(Shown(value))));
        });

    [Theory]
    [InlineData("12345", "12.345")]
    [InlineData("-5", "-0.005")]
    [InlineData("12345.", "12345")]
    [InlineData("0.5", "0.5")]
    public void Without_a_point_a_number_counts_increments(string text, string value)
    {
        Assert.True(NumberText.TryParse(Encoding.ASCII.GetBytes(text), out var number));
        Assert.Equal(value, Shown(number.Counted(0.001m)));
    }

    [Theory]
    [InlineData("54", 54)]
    [InlineData("54.", 54)]
    [InlineData("+54.00", 54)]
    [InlineData("-7", -7)]
    [InlineData("0.000", 0)]
    [InlineData("2147483647", int.MaxValue)]
    [InlineData("54.1", null)]
    [InlineData("2147483648", null)]
    [InlineData("99999999999", null)]
    public void A_whole_number_is_one_with_any_zeros_behind_the_point(string text, int? whole)
    {
        Assert.True(NumberText.TryParse(Encoding.ASCII.GetBytes(text), out var number));
        Assert.Equal(whole is not null, number.TryWhole(out var found));
        Assert.Equal(whole ?? 0, found);
    }

    [Theory]
    [InlineData("1E-05", NumberScan.Number, "0.00001")]
    [InlineData("-1.5e+2", NumberScan.Number, "-150")]
    [InlineData("12.50e1", NumberScan.Number, "125.0")]
    [InlineData("0e99", NumberScan.Number, "0")]
    [InlineData("1e999", NumberScan.TooLong, "0")]
    [InlineData("1e-99", NumberScan.TooLong, "0")]
    [InlineData("1e", NumberScan.None, "0")]
    [InlineData("1e1.5", NumberScan.None, "0")]
    [InlineData("1e99999", NumberScan.None, "0")]
    [InlineData("1 5", NumberScan.None, "0")]
    public void An_exponent_moves_the_point(string text, NumberScan found, string value)
    {
        Assert.Equal(found, NumberText.ParseWithExponent(Encoding.ASCII.GetBytes(text), out var number));
        Assert.Equal(value, Shown(number.Value));
    }

    [Fact]
    public void Where_no_number_stands_the_position_stays_on_what_is_wrong()
    {
        var position = 1;
        Assert.Equal(NumberScan.None, NumberText.Scan("X--5"u8, ref position, out _));
        Assert.Equal(2, position);
    }

    private static decimal Parsed(string text) =>
        NumberText.TryParse(Encoding.ASCII.GetBytes(text), out var number)
            ? number.Value
            : throw new FormatException(text);

    private static string Shown(decimal value) => value.ToString(CultureInfo.InvariantCulture);
}
