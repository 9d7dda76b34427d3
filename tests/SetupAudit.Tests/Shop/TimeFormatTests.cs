using System.Globalization;
using CsCheck;

namespace SetupAudit.Shop;

public sealed class TimeFormatTests
{
    [Theory]
    [InlineData("yyyy-MM-dd HH:mm:ss")]
    [InlineData("yyyyMMdd-HHmmss")]
    [InlineData("yyyyMMdd")]
    [InlineData("dd.MM.yy H:mm")]
    [InlineData("MM/dd/yyyy hh:mm:ss tt")]
    [InlineData("ddd MMM dd HH:mm:ss yyyy")]
    [InlineData("yyyy-MM-ddTHH:mm:ssK")]
    [InlineData("yyyy-MM-dd HH:mm zzz")]
    [InlineData("o")]
    [InlineData("s")]
    public void A_format_that_gives_the_day_is_good(string format) => Assert.Null(TimeFormat.Fault(format));

    [Theory]
    [InlineData("HH:mm:ss", "does not give year, month and day (yyyy, MM, dd; mm are minutes)")]
    [InlineData("HH:mm zzz", "does not give year, month and day (yyyy, MM, dd; mm are minutes)")]
    [InlineData("yyyy-mm-dd HH:mm", "does not give year, month and day (yyyy, MM, dd; mm are minutes)")]
    [InlineData("yyyyMM", "does not give year, month and day (yyyy, MM, dd; mm are minutes)")]
    [InlineData("yyyy-MM-dd hh:mm", "reads 13 hours as 1; use HH, or hh together with tt")]
    [InlineData("%", "is no .NET date format; use one such as yyyy-MM-dd HH:mm:ss")]
    [InlineData("yyyy '", "is no .NET date format; use one such as yyyy-MM-dd HH:mm:ss")]
    public void A_format_that_would_read_wrong_is_told(string format, string fault) =>
        Assert.Equal(fault, TimeFormat.Fault(format));

    [Theory]
    [InlineData("2026-03-02T07:10:00", null)]
    [InlineData("2026-03-02T07:10:00Z", 0)]
    [InlineData("2026-03-02T07:10:00+01:00", 1)]
    public void An_offset_that_is_written_counts_and_none_is_added(string text, int? hours)
    {
        Assert.True(TimeFormat.TryRead(text, "yyyy-MM-dd'T'HH:mm:ssK", out var local, out var offset));
        Assert.Equal(new DateTime(2026, 3, 2, 7, 10, 0), local);
        Assert.Equal(hours is null ? null : TimeSpan.FromHours(hours.Value), offset);
    }

    [Fact]
    public void Whatever_is_written_by_a_good_format_reads_back() =>
        Gen.Select(Gen.DateTime, Gen.Int[0, 2]).Sample((time, chosen) =>
        {
            var format = ((string[])["yyyy-MM-dd HH:mm:ss", "yyyyMMdd-HHmmss", "d.M.yyyy H:m:s"])[chosen];
            var whole = new DateTime(time.Ticks - time.Ticks % TimeSpan.TicksPerSecond);
            var text = whole.ToString(format, CultureInfo.InvariantCulture);
            return TimeFormat.TryRead(text, format, out var local, out var offset) && local == whole && offset is null;
        });

    [Fact]
    public void No_format_makes_it_throw() =>
        Gen.String[Gen.Char["yMdHhmsftzK'\"\\%:-/. "], 0, 12].Sample(format => { _ = TimeFormat.Fault(format); });
}
