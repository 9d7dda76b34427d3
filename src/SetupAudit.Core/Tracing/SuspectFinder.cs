using System.Globalization;
using SetupAudit.Changes;
using SetupAudit.Datums;

namespace SetupAudit.Tracing;

/// <summary>
/// Finds the offsets that may be wrong: what stood, minus what should have stood. What should have stood is the usual
/// value of
/// this job, or the setup sheet's, or what stood before the last change of it.
/// </summary>
internal sealed class SuspectFinder(TraceEvidence evidence, PartError error)
{
    // The usual value of a job says more of what should have stood than what happened to stand before.
    private const double UsualWeight = 1;
    private const double BeforeWeight = 0.6;
    private const double StaleWeight = 0.8;

    /// <summary>All suspects among the offsets that the feature depends on.</summary>
    public IReadOnlyList<Suspect> Find() => [.. Keys().SelectMany(Of)];

    /// <summary>The offsets that a feature cut in these registers by these tools depends on.</summary>
    private IEnumerable<OffsetKey> Keys()
    {
        var registers = Registers();
        var tools = Tools();
        return evidence.Table.States.Keys.Where(key => key.IsTool
            ? tools.Contains(key.Tool)
            : key.IsLinear && (key.Register.IsCommon || key.Register.IsG92 || registers.Contains(key.Register)));
    }

    private HashSet<Register> Registers()
    {
        if (error.Register is { } given) return [given];
        var cut = evidence.Case.Programs.SelectMany(use => use.Scope?.Registers ?? [])
            .Where(scope => scope.Cuts != false).Select(scope => scope.Register).ToHashSet();
        return cut.Count > 0 ? cut : [.. evidence.Table.Registers];
    }

    private HashSet<int> Tools()
    {
        if (error.Tool is { } given)
        {
            var offsets = evidence.Case.Programs.SelectMany(use => use.Scope?.Tools ?? [])
                .Where(tool => tool.Tool == given)
                .SelectMany(tool => new[] { tool.Length ?? given, tool.Diameter ?? given });
            return [given, .. offsets];
        }
        var called = evidence.Case.Programs.SelectMany(use => use.Scope?.Tools ?? [])
            .SelectMany(tool => new[] { tool.Tool, tool.Length ?? tool.Tool, tool.Diameter ?? tool.Tool }).ToHashSet();
        return called.Count > 0 ? called : [.. evidence.Table.Tools];
    }

    private IEnumerable<Suspect> Of(OffsetKey key)
    {
        if (evidence.Table[key] is not { Value: { } stood } state) yield break;
        var change = evidence.Changes.LastOrDefault(item => item.Key == key && item.ToUtc <= evidence.AtUtc);
        var stale = state.SinceUtc < evidence.Case.Setup.OpenedUtc;
        if (evidence.Expected.TryGetValue(key, out var usual) && usual.Value != stood)
        {
            var expected = $"{usual.Says} {Text(usual.Value)}";
            yield return new Suspect(key, change, (double)(stood - usual.Value), usual.Spread,
                stale ? StaleWeight : UsualWeight, stale,
                stale ? $"it was not set in this setup and stood at {Text(stood)}, where {expected} was expected"
                    : $"it stood at {Text(stood)}, where {expected} was expected");
        }
        foreach (var moved in Moves(key).Where(moved => moved.Wrong != 0m))
            yield return new Suspect(key, moved.Change, (double)moved.Wrong, 0, BeforeWeight, Stale: false,
                $"it had been moved by {Text(moved.Wrong)} from {Text(stood - moved.Wrong)} to {Text(stood)}");
    }

    /// <summary>What stood minus what stood before the last change, and before each earlier change of the
    /// setup.</summary>
    private IEnumerable<(Change Change, decimal Wrong)> Moves(OffsetKey key)
    {
        var moves = evidence.Changes.Where(item => item.Key == key && !item.IsFirstSight && item.Delta != 0m
            && item.ToUtc <= evidence.AtUtc && item.ToUtc >= evidence.Case.Setup.OpenedUtc).Reverse();
        var wrong = 0m;
        foreach (var move in moves)
        {
            wrong += move.Delta ?? 0m;
            yield return (move, wrong);
        }
    }

    private static string Text(decimal value) => value.ToString(CultureInfo.InvariantCulture);
}
