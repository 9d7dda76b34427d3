using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>
/// The cycles that changes of a setup may have been made in: its own, and those of the setup before, of which the last
/// may still run when this one opens.
/// </summary>
internal sealed class CycleSpans
{
    private readonly SetupCase _case;
    private readonly Dictionary<string, ProgramUse> _uses = new(StringComparer.Ordinal);
    private readonly Dictionary<string, TimeSpan> _longest = new(StringComparer.Ordinal);
    private readonly List<Cycle> _cycles;
    private readonly TimeSpan _quiet;
    private readonly bool _tellsEnds;

    public CycleSpans(SetupCase setupCase)
    {
        _case = setupCase;
        _quiet = TimeSpan.FromMinutes(setupCase.Shop.Setups.QuietMinutes);
        // A cycle that ran on under the next setup is told in both; the word of its end may be in one only.
        _cycles =
        [
            .. (setupCase.Previous?.Cycles ?? []).Concat(setupCase.Setup.Cycles)
                .GroupBy(cycle => (cycle.StartUtc, cycle.Source))
                .Select(same => same.FirstOrDefault(cycle => cycle.EndUtc is not null) ?? same.First())
                .OrderBy(cycle => cycle.StartUtc).ThenBy(cycle => cycle.Source.Line),
        ];
        _tellsEnds = _cycles.Exists(cycle => cycle.EndUtc is not null) || TellsEnds(setupCase);
        foreach (var cycle in _cycles)
            if (cycle.EndUtc - cycle.StartUtc is { } took && took > _longest.GetValueOrDefault(cycle.Program ?? ""))
                _longest[cycle.Program ?? ""] = took;
    }

    /// <summary>
    /// The cycle that certainly held all of (from, to]; null where none did, and where no source tells when cycles end.
    /// </summary>
    public CycleSpan? Holding(DateTimeOffset fromUtc, DateTimeOffset toUtc)
    {
        if (!_tellsEnds) return null;
        var index = LastStarted(fromUtc);
        return index >= 0 && Span(index) is var span && span.Holds(fromUtc, toUtc) ? span : null;
    }

    /// <summary>The cycles that may have held some of (from, to], in order.</summary>
    public IReadOnlyList<CycleSpan> Touching(DateTimeOffset fromUtc, DateTimeOffset toUtc)
    {
        var found = new List<CycleSpan>();
        for (var index = Math.Max(LastStarted(fromUtc), 0); index < _cycles.Count; index++)
        {
            if (_cycles[index].StartUtc >= toUtc) break;
            if (Span(index) is var span && span.MayHold(fromUtc, toUtc)) found.Add(span);
        }
        return found;
    }

    /// <summary>The last cycle that started at or before the moment; null where none did.</summary>
    public CycleSpan? Started(DateTimeOffset momentUtc) =>
        LastStarted(momentUtc) is var index and >= 0 ? Span(index) : null;

    /// <summary>The first cycle that started after the moment; null where none did.</summary>
    public CycleSpan? Next(DateTimeOffset momentUtc) =>
        LastStarted(momentUtc) + 1 is var index && index < _cycles.Count ? Span(index) : null;

    /// <summary>The end told, else the next start, and no later than such a cycle has ever taken.</summary>
    private CycleSpan Span(int index)
    {
        var cycle = _cycles[index];
        var took = _longest.TryGetValue(cycle.Program ?? "", out var longest) ? longest : _quiet;
        var endUtc = cycle.EndUtc ?? cycle.StartUtc + took;
        if (cycle.EndUtc is null && index + 1 < _cycles.Count && _cycles[index + 1].StartUtc < endUtc)
            endUtc = _cycles[index + 1].StartUtc;
        return new CycleSpan(cycle, endUtc, cycle.Program is { } program ? Use(program, cycle.StartUtc) : null);
    }

    private ProgramUse Use(string program, DateTimeOffset momentUtc)
    {
        if (_uses.TryGetValue(program, out var known)) return known;
        var text = _case.Shelf.At(program, momentUtc);
        return _uses[program] = _case.Programs.FirstOrDefault(use => use.Program == program) ?? new ProgramUse
        {
            Program = program,
            AtUtc = momentUtc,
            Text = text,
            TextIsLater = text is not null && text.ModifiedUtc > momentUtc,
            Scope = _case.Shelf.Scope(program, momentUtc),
        };
    }

    private static bool TellsEnds(SetupCase setupCase) =>
        MachineSources.Patterns(setupCase.Shop, setupCase.Machine).Any(pattern => pattern.Means == "cycle-end");

    private int LastStarted(DateTimeOffset momentUtc)
    {
        var (low, high) = (0, _cycles.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (_cycles[middle].StartUtc <= momentUtc) low = middle + 1;
            else high = middle;
        }
        return low - 1;
    }
}
