using System.Globalization;
using System.Runtime.CompilerServices;

namespace SetupAudit.Support;

/// <summary>
/// Runs the whole suite where a comma is the decimal separator and a point groups thousands, so that a number or date
/// formatted without naming a culture shows at once; and in a time zone that is half an hour off, with summer time, so
/// that a local time does. SETUPAUDIT_CULTURE picks another culture, for example ar-SA.
/// </summary>
public static class HostileCulture
{
    public const string Usual = "de-DE";

    public const string Zone = "America/St_Johns";

    public static CultureInfo Chosen { get; } =
        new(Environment.GetEnvironmentVariable("SETUPAUDIT_CULTURE") is { Length: > 0 } name ? name : Usual);

    [ModuleInitializer]
    internal static void Choose()
    {
        Environment.SetEnvironmentVariable("TZ", Zone);
        TimeZoneInfo.ClearCachedData();
        CultureInfo.DefaultThreadCurrentCulture = Chosen;
        CultureInfo.DefaultThreadCurrentUICulture = Chosen;
        CultureInfo.CurrentCulture = Chosen;
        CultureInfo.CurrentUICulture = Chosen;
    }
}
