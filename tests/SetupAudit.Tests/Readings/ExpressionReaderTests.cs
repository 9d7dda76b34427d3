using System.Globalization;
using System.Text;

namespace SetupAudit.Readings;

/// <summary>NISTIR 6556 (RS274/NGC) 3.3.2 and the programs of its appendix C.2, from which the values come.</summary>
public sealed class ExpressionReaderTests
{
    [Theory]
    [InlineData("[2.0 / 3 * 1.5 - 5.5 / 11.0]", 0.5)]
    [InlineData("FIX[2.8]", 2)]
    [InlineData("FIX[-2.8]", -3)]
    [InlineData("FUP[2.8]", 3)]
    [InlineData("FUP[-2.8]", -2)]
    [InlineData("[1 --3]", 4)]
    [InlineData("[2 or 2]", 1)]
    [InlineData("[2 xor 2]", 0)]
    [InlineData("[2 and 0]", 0)]
    [InlineData("[15 MOD 4.0]", 3)]
    [InlineData("[1 + 2 * 3 - 4 / 5]", 6.2)]
    [InlineData("[2 ** 3.0]", 8)]
    [InlineData("sqrt[3**2 + 4**2]", 5)]
    [InlineData("round[-0.499]", 0)]
    [InlineData("round[-0.5001]", -1)]
    [InlineData("round[2.444]", 2)]
    [InlineData("round[9.975]", 10)]
    [InlineData("fix[-0.499]", -1)]
    [InlineData("fup[-0.5001]", 0)]
    [InlineData("[1/2.1+-0.345]", 0.1311904761904762)]
    [InlineData("[2 + asin[1/2.1+-0.345] / [atan[fix[4.4] * 2.1 * sqrt[16.8]] /[-18]]**2]", 2.000545077939048)]
    public void A_published_expression_has_its_published_value(string text, double expected) =>
        Assert.Equal(expected, (double)Known(text), 12);

    [Fact]
    public void Atan_of_two_gives_the_published_angle() => Assert.Equal(60.0, (double)Known("atan[1.7321]/[1.0]"), 0.001);

    [Theory]
    // Worked out by hand from the three groups of 3.3.2.3: within a group from left to right, ** too.
    [InlineData("[2 ** 3 ** 2]", 64)]
    [InlineData("[8 / 4 / 2]", 1)]
    [InlineData("[2 + 3 * 2 ** 2]", 14)]
    [InlineData("[[2 + 3] * 2]", 10)]
    [InlineData("[-2 ** 2]", 4)]
    [InlineData("[-7 MOD 3]", 2)]
    [InlineData("[1+2OR0]", 1)]
    [InlineData("[7MODABS[-4]]", 3)]
    [InlineData("[2 ** -2]", 0.25)]
    [InlineData("[2 ** 0.5 ** 2]", 2)]
    public void Operators_bind_by_group_and_from_the_left(string text, double expected) =>
        Assert.Equal(expected, (double)Known(text), 12);

    [Theory]
    [InlineData("SIN[30]", 0.5)]
    [InlineData("COS[90]", 0)]
    [InlineData("TAN[45]", 1)]
    [InlineData("ACOS[0.5]", 60)]
    [InlineData("ATAN[-1]/[-1]", -135)]
    [InlineData("ATAN[1,1]", 45)]
    [InlineData("LN[EXP[2]]", 2)]
    [InlineData("ABS[-1.5]", 1.5)]
    public void Functions_work_in_degrees(string text, double expected) => Assert.Equal(expected, (double)Known(text), 12);

    [Theory]
    // Comparisons are common practice, no source.
    [InlineData("[#1 EQ 15]", 1)]
    [InlineData("[#1 NE 15]", 0)]
    [InlineData("[#1 + 1 GT 15]", 1)]
    [InlineData("[#1 LE 14]", 0)]
    public void Comparisons_bind_last(string text, double expected) => Assert.Equal(expected, (double)Known(text), 12);

    [Theory]
    [InlineData("#1", 15)]
    [InlineData("#1+2", 17)]
    [InlineData("#[1+2]", 2)]
    [InlineData("##3", 7)]
    [InlineData("-#1", -15)]
    [InlineData("#3.00001", 2)]
    public void A_parameter_binds_tighter_than_an_operator(string text, double expected) =>
        Assert.Equal(expected, (double)Known(text), 12);

    [Theory]
    [InlineData("#4")]
    [InlineData("[#4 * 0]")]
    [InlineData("#[#4 + 1]")]
    [InlineData("SIN[#4]")]
    [InlineData("#<_name>")]
    public void What_rests_on_a_parameter_that_is_not_given_is_not_known(string text)
    {
        Assert.Null(Value(text, out var reason, out _));
        Assert.Null(reason);
    }

    [Theory]
    [InlineData("[1/0]", 3, "divides by zero")]
    [InlineData("[#4/0]", 4, "divides by zero")]
    [InlineData("[1", 0, "not closed")]
    [InlineData("[1 2 +]", 6, "where a value was expected")]
    [InlineData("--5", 1, "two signs")]
    [InlineData(".", 1, "without a digit")]
    [InlineData("[SQRT[-1]]", 1, "negative")]
    [InlineData("ASIN[2]", 0, "beyond 1")]
    [InlineData("LN[0]", 0, "not positive")]
    [InlineData("TAN[90]", 0, "larger than 10^18")]
    [InlineData("[10 ** 30]", 7, "larger than 10^18")]
    [InlineData("[-8 ** 0.5]", 7, "has no value")]
    [InlineData("SINE[3]", 0, "begins no function")]
    [InlineData("#1.5", 4, "no whole number")]
    [InlineData("#123456", 0, "numbered up to 99999")]
    [InlineData("ATAN[1]", 7, "without /[x]")]
    [InlineData("2]", 1, "stands behind a value")]
    public void What_is_no_value_says_where_and_why(string text, int position, string why)
    {
        Assert.Null(Value(text, out var reason, out var at));
        Assert.Contains(why, reason, StringComparison.Ordinal);
        Assert.Equal(position, at);
    }

    [Fact]
    public void A_thousand_brackets_are_refused_before_they_fill_the_stack()
    {
        Value(new string('[', 1000) + "1" + new string(']', 1000), out var reason, out _);
        Assert.Contains("nest more than 64 deep", reason, StringComparison.Ordinal);
        Value(new string('#', 20_000) + "1", out reason, out _);
        Assert.Contains("nest more than 64 deep", reason, StringComparison.Ordinal);
    }

    [Fact]
    public void A_product_that_decimals_cannot_hold_is_a_fault_and_no_exception()
    {
        Value("[99999999999999999*99999999999999999]", out var reason, out _);
        Assert.Contains("larger than 10^18", reason, StringComparison.Ordinal);
        Value("[0.00000000000000001/99999999999999999/99999999999999999]", out reason, out _);
        Assert.Null(reason);
    }

    private static decimal Known(string text)
    {
        var value = Value(text, out var reason, out _);
        Assert.Null(reason);
        return value ?? throw new InvalidOperationException($"{text} is not known");
    }

    // #1 = 15, #2 = 7, #3 = 2.
    private static decimal? Value(string text, out string? reason, out int position)
    {
        var parameters = new ExpressionParameters();
        parameters.Set(1, 15);
        parameters.Set(2, 7);
        parameters.Set(3, 2);
        var reader = new ExpressionReader(Encoding.ASCII.GetBytes(text), parameters);
        var value = reader.ReadAll();
        (reason, position) = (reader.Reason, reader.Position);
        return value is { } known ? decimal.Parse(known.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture) : null;
    }
}
