using SetupAudit.Evidence;
using SetupAudit.Setups;

namespace SetupAudit.Findings;

/// <summary>An alarm, or a cycle that was stopped, in this setup or the one before.</summary>
internal sealed record Interruption(DateTimeOffset AtUtc, string What, SourceLine Source)
{
    private const string SurfaceNotFound = "surface-not-found";

    /// <summary>In order. A search that met no surface stops no cutting tool.</summary>
    public static IReadOnlyList<Interruption> Of(SetupCase setupCase)
    {
        var setups = new[] { setupCase.Previous, setupCase.Setup }.OfType<Setup>().ToList();
        var alarms = setups.SelectMany(setup => setup.Alarms).Where(alarm => alarm.Kind != SurfaceNotFound)
            .Select(alarm => new Interruption(alarm.AtUtc, Says(alarm), alarm.Source));
        var stops = setups.SelectMany(setup => setup.Cycles)
            .Where(cycle => cycle is { Ended: CycleEnding.Aborted, EndUtc: not null })
            .Select(cycle => new Interruption(cycle.EndUtc ?? cycle.StartUtc, "the stop", cycle.Source));
        return [.. alarms.Concat(stops).OrderBy(stop => stop.AtUtc).ThenBy(stop => stop.Source.Line)];
    }

    private static string Says(Alarm alarm) => (alarm.Code ?? alarm.Text) is null
        ? "the alarm"
        : $"the alarm {Words.Given($"{alarm.Code} {alarm.Text}".Trim())}";
}
