using System.Globalization;
using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>Reads the moments that options give.</summary>
internal static class Moments
{
    private static readonly string[] DaysOnly = ["yyyy-MM-dd", "yyyyMMdd"];

    public static DateTimeOffset? Parse(ShopClock clock, string option, string? text) => text is null
        ? null
        : clock.ParseMoment(text) ?? throw new CommandException(
            $"{option}: '{text}' is no moment; allowed is ISO 8601 such as 2026-03-02T07:10:00 (the shop's clock), "
            + "2026-03-02T07:10:00Z, or a day such as 2026-03-02.");

    /// <summary>As <see cref="Parse"/>, but a day alone means its last moment.</summary>
    public static DateTimeOffset? ParseUntil(ShopClock clock, string option, string? text)
    {
        var moment = Parse(clock, option, text);
        if (moment is null || !IsDay(text, out var day)) return moment;
        var next = clock.ParseMoment(day.AddDays(1).ToString(DaysOnly[0], CultureInfo.InvariantCulture));
        return next?.AddTicks(-1) ?? moment;
    }

    /// <summary>Whether a day was given without a time.</summary>
    public static bool IsDayOnly(string? text) => IsDay(text, out _);

    private static bool IsDay(string? text, out DateOnly day) => DateOnly.TryParseExact(
        text?.Trim(), DaysOnly, CultureInfo.InvariantCulture,
        DateTimeStyles.None, out day) && day < DateOnly.MaxValue;
}
