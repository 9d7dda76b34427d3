using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Findings;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Shapes;

/// <summary>Works out what the head of a setup shows: which registers and tools, and what was set in each.</summary>
internal sealed class SetupHead(
    MachineConfig machine, Setup setup, IReadOnlyList<ProgramUse> programs, IReadOnlyList<Finding> findings)
{
    private readonly ReviewBasis _basis = ReviewStanding.Basis(setup, findings);
    private readonly ILookup<OffsetKey, Change> _changes = setup.Changes.ToLookup(change => change.Key);
    private readonly ILookup<OffsetKey, Touch> _touches = setup.Touches.ToLookup(touch => touch.Key);

    public SetupView View() => new()
    {
        Setup = setup.Id,
        Machine = setup.Machine,
        Pallet = setup.Pallet,
        OpenedUtc = setup.OpenedUtc,
        ClosedUtc = setup.ClosedUtc,
        Status = Status(),
        Programs = setup.Programs,
        Setter = setup.Setter,
        Unit = machine.Units,
        LastEventUtc = setup.LastEventUtc,
        CuttingUtc = setup.CuttingUtc,
        JudgedUtc = setup.JudgedUtc,
        Registers = [.. Registers().Select(Register)],
        Tools = [.. Tools().Select(Tool)],
        Texts = [.. programs.Select(Text)],
        Sheets = [.. programs.Select(use => use.Sheet).OfType<SetupSheet>().Select(Sheet)],
        Lifts = [.. setup.Lifts.Select(LiftView.Of)],
        ClocksDisagree = setup.ClocksDisagree,
        Basis = _basis,
        Review = setup.Reviews.Count == 0 ? null : ReviewView.Of(setup.Reviews, _basis),
    };

    private SetupStatus Status()
    {
        if (setup.Reviews.Count > 0)
            return ReviewStanding.Doubt(setup.Reviews[^1], _basis) is not null ? SetupStatus.Queried
                : setup.Reviews[^1].Verdict == ReviewVerdict.Accepted ? SetupStatus.Accepted
                : SetupStatus.Rejected;
        var judged = setup.ClosedUtc is not null || setup.JudgedUtc is not null;
        if (judged && findings.Any(finding => finding.Severity >= Severity.High)) return SetupStatus.Queried;
        return setup.ClosedUtc is null ? SetupStatus.Open : SetupStatus.Settled;
    }

    // A control may hold three hundred registers. The head shows those that the setup moved, its programs call, its
    // sheets name or a finding is about, and the common offset where it is not zero, for that adds to all of them.
    private IEnumerable<Register> Registers()
    {
        var moved = Moved().Where(key => key.IsDatum).Select(key => key.Register);
        var called = Scopes().SelectMany(scope => scope.Registers).Select(item => item.Register);
        var named = SheetDatums().Select(datum => datum.Register);
        var found = findings.Select(finding => finding.Register).OfType<Register>();
        var common = setup.After.Keys(Datums.Register.Common).Where(key => setup.After.Value(key) is not (null or 0m))
            .Select(key => key.Register);
        return moved.Concat(called).Concat(named).Concat(found).Concat(common).Distinct().Order();
    }

    private IEnumerable<int> Tools()
    {
        var moved = Moved().Where(key => key.IsTool).Select(key => key.Tool);
        return moved.Concat(CalledTools()).Concat(findings.Select(finding => finding.Tool).OfType<int>())
            .Distinct().Order();
    }

    private IEnumerable<OffsetKey> Moved() => setup.Changes.Where(change => !change.IsFirstSight)
        .Select(change => change.Key).Concat(setup.Touches.Select(touch => touch.Key)).Distinct();

    private IEnumerable<ProgramScope> Scopes() => programs.Select(use => use.Scope).OfType<ProgramScope>();

    private IEnumerable<SheetDatum> SheetDatums() =>
        programs.Select(use => use.Sheet).OfType<SetupSheet>().SelectMany(sheet => sheet.Datums);

    private IEnumerable<int> CalledTools() => Scopes().SelectMany(scope => scope.Tools)
        .SelectMany(tool => new int?[] { tool.Tool, tool.Length, tool.Diameter }).OfType<int>().Where(tool => tool > 0);

    private RegisterView Register(Register register)
    {
        var scopes = Scopes().SelectMany(scope => scope.Registers).Where(item => item.Register == register).ToList();
        // Where every tool is touched on the part, Z of the register stays as it is.
        var needed = scopes.Where(item => item.Cuts != false).SelectMany(item => item.Axes)
            .Where(axis => OffsetKey.Datum(register, axis).IsLinear && !(axis == Axis.Z && machine.ZFromToolLengths))
            .Concat(SheetDatums().Where(datum => datum.Register == register).SelectMany(datum => datum.Axes))
            .ToHashSet();
        var axes = setup.Before.Keys(register).Concat(setup.After.Keys(register)).Select(key => key.Axis)
            .Concat(needed).Distinct().Order();
        return new(register, Cuts(scopes),
            [.. axes.Select(axis => (axis, Value(OffsetKey.Datum(register, axis), needed.Contains(axis))))]);
    }

    private bool ProgramsAreUnsure => programs.Count == 0
        || programs.Any(use => use.Scope is null or { Missing.Count: > 0 });

    private bool? Cuts(IReadOnlyList<RegisterScope> scopes)
    {
        if (scopes.Any(item => item.Cuts == true)) return true;
        return scopes.Any(item => item.Cuts is null) || ProgramsAreUnsure ? null : false;
    }

    private ToolView Tool(int tool)
    {
        var called = CalledTools().Contains(tool);
        var parts = setup.Before.States.Keys.Concat(setup.After.States.Keys)
            .Where(key => key.IsTool && key.Tool == tool).Select(key => key.Part)
            .Append(machine.IsLathe ? ToolPart.Z : ToolPart.Length).Distinct().Order();
        return new(tool, called ? true : ProgramsAreUnsure ? null : false,
            [.. parts.Select(part => (part, Value(OffsetKey.OfTool(tool, part), called && part == ToolPart.Length)))]);
    }

    private OffsetView Value(OffsetKey key, bool needed)
    {
        var by = SetBy(key);
        var judged = setup.After[key];
        // What was mended after the setup was judged is how the setup left it.
        var last = _changes[key].LastOrDefault(change => change.ToUtc > setup.JudgedUtc);
        return new()
        {
            Before = setup.Before.Value(key),
            After = last is null ? judged?.Value : last.After,
            Set = by is not null,
            Late = by is not null && IsLate(key),
            By = by is null ? null : Brought(key) ?? by,
            Needed = needed,
            SinceUtc = last?.ToUtc ?? judged?.SinceUtc,
        };
    }

    private bool IsLate(OffsetKey key) => setup.JudgedUtc is { } judgedUtc
        && !_touches[key].Any(touch => !touch.Missed && touch.AtUtc <= judgedUtc)
        && !_changes[key].Any(change => SetMarks.Sets(setup, change) && Earliest(change) < judgedUtc);

    private static DateTimeOffset Earliest(Change change) =>
        change.Touched ? change.ToUtc : change.ByUtc ?? change.FromUtc ?? change.ToUtc;

    private ChangedBy? SetBy(OffsetKey key)
    {
        var change = _changes[key].LastOrDefault(item => SetMarks.Sets(setup, item));
        if (change is not null) return change.By;
        return _touches[key].Any(touch => !touch.Missed) ? ChangedBy.Measured : null;
    }

    // A value that was moved after it was set (a lift, say) stands by what moved it.
    private ChangedBy? Brought(OffsetKey key) =>
        _changes[key].LastOrDefault(change => !change.IsFirstSight && (change.Touched || change.Delta != 0m))?.By;

    private static ProgramUseView Text(ProgramUse use) => new()
    {
        Program = use.Program,
        Title = use.Text?.Title,
        File = use.Text?.File,
        Sha256 = use.Text?.Sha256,
        ModifiedUtc = use.Text?.ModifiedUtc,
        Later = use.TextIsLater,
        ByLookback = use.ByLookback,
        Missing = use.Scope?.Missing ?? [],
    };

    private SheetView Sheet(SetupSheet sheet) => new()
    {
        Program = sheet.Program,
        Part = sheet.Part,
        StockX = InMachineUnit(sheet, sheet.StockX),
        StockY = InMachineUnit(sheet, sheet.StockY),
        StockZ = InMachineUnit(sheet, sheet.StockZ),
        Datums = [.. sheet.Datums.Select(datum => (datum.Register, datum.At))],
        Source = new SourceLine(sheet.File, sheet.Sha256, 1),
    };

    private decimal? InMachineUnit(SetupSheet sheet, decimal? value) =>
        value is { } known ? sheet.InUnit(known, machine.Units) : null;
}
