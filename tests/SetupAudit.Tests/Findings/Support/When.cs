using System.Globalization;

namespace SetupAudit.Findings.Support;

/// <summary>Moments as tests write them: "07:14" is that day's, "02-27 09:10" another's; UTC, which is the shop's clock then.</summary>
internal static class When
{
    private const string Day = "2026-03-02";

    public static DateTimeOffset At(string text) => DateTimeOffset.Parse(
        text.Contains(' ', StringComparison.Ordinal) ? $"2026-{text}" : $"{Day} {text}",
        CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal);
}
