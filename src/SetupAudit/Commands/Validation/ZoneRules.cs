using FluentValidation;
using SetupAudit.Shop;

namespace SetupAudit.Commands.Validation;

/// <summary>Whether a time zone is one this machine knows.</summary>
internal static class ZoneRules
{
    public static IRuleBuilderOptions<T, string?> IsTimeZone<T>(this IRuleBuilder<T, string?> rule) =>
        rule.Must(zone => string.IsNullOrEmpty(zone) || TimeZoneInfo.TryFindSystemTimeZoneById(zone, out _))
            .WithMessage((_, zone) => Sentence(zone ?? ""));

    private static string Sentence(string zone)
    {
        var near = NearestWord.Of(zone, TimeZoneInfo.GetSystemTimeZones(skipSorting: true).Select(known => known.Id));
        return near is null
            ? $"\"{zone}\" is no time zone; use a name of the time zone database, such as Europe/London"
            : $"\"{zone}\" is no time zone; did you mean {near}?";
    }
}
