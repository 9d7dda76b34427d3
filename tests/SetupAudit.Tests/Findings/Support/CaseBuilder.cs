using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Support;

/// <summary>
/// A setup made by hand, told in the order of the day: what stood, what was touched and changed, which programs and
/// cycles ran, when it is judged. The numbers of lines count up, so that each line of evidence is another.
/// </summary>
internal sealed class CaseBuilder
{
    private readonly List<Change> _changes = [];
    private readonly List<Change> _adjustments = [];
    private readonly List<Change> _recent = [];
    private readonly List<Touch> _touches = [];
    private readonly List<Measurement> _measurements = [];
    private readonly List<Alarm> _alarms = [];
    private readonly List<Cycle> _cycles = [];
    private readonly List<Lift> _lifts = [];
    private readonly List<MassLoss> _losses = [];
    private readonly List<ProgramUse> _uses = [];
    private readonly Dictionary<Register, LastCut> _lastCuts = [];
    private readonly Dictionary<string, Cycle> _lastCycles = [];
    private readonly ProgramShelf _shelf = new();
    private OffsetTable _before = OffsetTable.Empty;
    private OffsetTable _now = OffsetTable.Empty;
    private Judgement _judged = Judgement.NotYet;
    private DateTimeOffset? _judgedUtc;
    private DateTimeOffset? _cuttingUtc;
    private DateTimeOffset? _closedUtc;
    private Setup? _previous;
    private string? _clocks;
    private bool _tellsTouches = true;
    private int _line;

    private MachineConfig _machine = new()
    {
        Name = "mill-3",
        Kind = MachineKind.Mill,
        Units = Unit.Millimetre,
        Travel = new Dictionary<Axis, Bounds>
        {
            [Axis.X] = new(-800, 0),
            [Axis.Y] = new(-450, 0),
            [Axis.Z] = new(-520, 0),
        },
        ProbeTool = 24,
    };

    private ShopConfig _shop = new()
    {
        Name = "Harrow Lane Works",
        TimeZone = "Europe/London",
        Store = new StoreConfig("audit", null),
        Machines = [],
    };

    public static OffsetKey Key(string text)
    {
        var dot = text.LastIndexOf('.');
        var (left, right) = (text[..dot], text[(dot + 1)..]);
        if (left[0] == 'T')
            return ToolPartName.TryParse(right, out var part)
                ? OffsetKey.OfTool(int.Parse(left[1..]), part)
                : throw new ArgumentException($"{text} names no part of a tool", nameof(text));
        return OffsetKey.Datum(Register(left), Enum.Parse<Axis>(right));
    }

    public static Register Register(string name) => Datums.Register.TryParse(name, out var register)
        ? register
        : throw new ArgumentException($"{name} is no register", nameof(name));

    public CaseBuilder Machine(Func<MachineConfig, MachineConfig> change)
    {
        _machine = change(_machine);
        return this;
    }

    public CaseBuilder Lathe() => Machine(machine => machine with { Kind = MachineKind.Lathe, XOnDiameter = true });

    public CaseBuilder Inch() => Machine(machine => machine with { Units = Unit.Inch, Resolution = 0.0001m });

    public CaseBuilder Shop(Func<ShopConfig, ShopConfig> change)
    {
        _shop = change(_shop);
        return this;
    }

    public CaseBuilder Rule(string name, Severity? severity) => Shop(shop => shop with
    {
        Rules = new Dictionary<string, Severity?>(shop.Rules) { [name] = severity },
    });

    public CaseBuilder NoPrintOuts()
    {
        _tellsTouches = false;
        return this;
    }

    public CaseBuilder ClocksDisagree(string how)
    {
        _clocks = how;
        return this;
    }

    /// <summary>What stood before the setup; null for a register that is known to hold no value.</summary>
    public CaseBuilder Held(string key, decimal? value, string since = "02-27 09:10")
    {
        var state = State(value, since, Dump());
        (_before, _now) = (_before.With(Key(key), state), _now.With(Key(key), state));
        return this;
    }

    /// <summary>X, Y and Z of a register stood so before the setup.</summary>
    public CaseBuilder Held(string register, decimal x, decimal y, decimal z, string since = "02-27 09:10") =>
        Held($"{register}.X", x, since).Held($"{register}.Y", y, since).Held($"{register}.Z", z, since);

    /// <summary>A print-out tells a touch; with a value it also makes a change, of 0 where it is the same again.</summary>
    public CaseBuilder Touched(
        string key, string at, decimal? value = null, bool missed = false, int? cycle = null, string? feature = null)
    {
        var line = Print();
        _touches.Add(new Touch
        {
            Key = Key(key),
            AtUtc = When.At(at),
            Value = value,
            Feature = feature,
            Source = line,
            Missed = missed,
            Cycle = cycle,
            CyclesBefore = _cycles.Count,
        });
        if (value is null || missed) return this;
        _changes.Add(Moved(key, null, at, value, line) with { Touched = true, By = ChangedBy.Measured, BySource = line });
        return this;
    }

    /// <summary>A dump shows another value than the one before.</summary>
    public CaseBuilder Changed(
        string key, string from, string to, decimal? after, Func<Change, Change>? more = null)
    {
        var change = Moved(key, from, to, after, Dump());
        _changes.Add(more is null ? change : more(change));
        return this;
    }

    public CaseBuilder Adjusted(
        string key, string from, string to, decimal? after, Func<Change, Change>? more = null)
    {
        var change = Moved(key, from, to, after, Dump());
        _adjustments.Add(more is null ? change : more(change));
        return this;
    }

    /// <summary>A change of before this setup, of which only sums over time ask.</summary>
    public CaseBuilder Recent(string key, string to, decimal before, decimal after)
    {
        _recent.Add(Moved(key, to, to, after, Dump()) with { Before = before });
        return this;
    }

    public CaseBuilder Measured(string at, Func<Measurement, Measurement> fill)
    {
        _measurements.Add(fill(new Measurement { Machine = "mill-3", AtUtc = When.At(at), Source = Print() }));
        return this;
    }

    public CaseBuilder Alarmed(string at, string? kind = null, string? key = null, string? feature = null)
    {
        _alarms.Add(new Alarm
        {
            AtUtc = When.At(at),
            Code = "5012",
            Text = "NO SURFACE",
            Kind = kind,
            Register = key is null ? null : Key(key).Register,
            Axis = key is null ? null : Key(key).Axis,
            Feature = feature,
            Source = Print(),
        });
        return this;
    }

    public CaseBuilder Lifted(
        string key, decimal start, decimal raised, string at, decimal? putTo = null, string? put = null)
    {
        _lifts.Add(new Lift
        {
            Key = Key(key),
            Start = start,
            Raised = raised,
            PutTo = putTo,
            RaisedUtc = When.At(at),
            PutUtc = put is null ? null : When.At(put),
            RaisedSource = Dump(),
            PutSource = put is null ? null : Dump(),
        });
        return this;
    }

    public CaseBuilder Lost(string at, string what, int count, int of, bool returned = false)
    {
        _losses.Add(new MassLoss
        {
            AtUtc = When.At(at),
            What = what,
            Count = count,
            Of = of,
            Returned = returned,
            Source = Dump(),
        });
        return this;
    }

    public CaseBuilder Program(string program, Func<ProgramBuilder, ProgramBuilder>? fill = null)
    {
        var builder = new ProgramBuilder(program);
        var use = (fill is null ? builder.Cuts("G54") : fill(builder)).Build();
        _uses.Add(use);
        if (use.Text is { } text) _shelf.Add(text);
        return this;
    }

    /// <summary>A version of a program beside the one in hand.</summary>
    public CaseBuilder Version(ProgramText text)
    {
        _shelf.Add(text);
        return this;
    }

    public CaseBuilder LastCut(
        string register, string program, string at = "03-01 16:10", string? title = null, bool othersSince = false)
    {
        _lastCuts[Register(register)] = new LastCut(program, title, When.At(at), othersSince, Print());
        return this;
    }

    public CaseBuilder LastCycle(string program, string start, string? end = null)
    {
        _lastCycles[program] = Run(program, start, end);
        return this;
    }

    public CaseBuilder Cycle(
        string? program, string start, string? end = null, CycleEnding ended = CycleEnding.Finished, bool underLift = false)
    {
        _cycles.Add(Run(program, start, end, ended) with { UnderLift = underLift });
        return this;
    }

    /// <summary>The setup before, of which the cycles and alarms are asked.</summary>
    public CaseBuilder Previous(Func<CaseBuilder, CaseBuilder> fill)
    {
        _previous = fill(new CaseBuilder()).Build().Setup;
        return this;
    }

    public CaseBuilder CuttingAt(string at)
    {
        (_judged, _judgedUtc, _cuttingUtc) = (Judgement.CuttingStarted, When.At(at), When.At(at));
        return this;
    }

    public CaseBuilder QuietAt(string at)
    {
        (_judged, _judgedUtc, _closedUtc) = (Judgement.WentQuiet, When.At(at), When.At(at));
        return this;
    }

    public CaseBuilder AskedAt(string at)
    {
        (_judged, _judgedUtc) = (Judgement.Asked, When.At(at));
        return this;
    }

    public CaseBuilder ClosedAt(string at)
    {
        _closedUtc = When.At(at);
        return this;
    }

    public IReadOnlyList<Finding> All() => RuleBook.Judge(Build());

    /// <summary>What one rule finds, through the book.</summary>
    public IReadOnlyList<Finding> Found(string rule) => [.. All().Where(finding => finding.Rule == rule)];

    public SetupCase Build() => new()
    {
        Shop = _shop,
        Machine = _machine,
        Setup = new Setup
        {
            Id = "mill-3@20260302-070000",
            Machine = "mill-3",
            OpenedUtc = When.At("07:00"),
            LastEventUtc = When.At("07:00"),
            CuttingUtc = _cuttingUtc,
            ClosedUtc = _closedUtc,
            Judged = _judged,
            JudgedUtc = _judgedUtc,
            Before = _before,
            After = AtJudgement(),
            Changes = _changes,
            Adjustments = _adjustments,
            Touches = _touches,
            Measurements = _measurements,
            Alarms = _alarms,
            Cycles = _cycles,
            Lifts = _lifts,
            MassLosses = _losses,
            Programs = [.. _uses.Select(use => use.Program)],
            ClocksDisagree = _clocks,
        },
        Programs = _uses,
        Shelf = _shelf,
        LastCuts = _lastCuts,
        LastCycles = _lastCycles,
        Previous = _previous,
        RecentChanges = _recent,
        TellsCycles = true,
        TellsTouches = _tellsTouches,
    };

    private OffsetTable AtJudgement()
    {
        if (_judgedUtc is not { } judgedUtc) return _now;
        var table = _before;
        foreach (var change in _changes.Where(change => change.ToUtc <= judgedUtc))
            table = table.With(change.Key, new OffsetState(
                change.After, change.ToUtc, change.ToUtc, change.Id, change.By, change.Source, change.Before));
        return table;
    }

    private Change Moved(string name, string? from, string to, decimal? after, SourceLine source)
    {
        var key = Key(name);
        var known = _now[key];
        var change = new Change
        {
            Id = $"mill-3@{to}/{name}",
            Machine = "mill-3",
            Key = key,
            Before = known?.Value,
            After = after,
            Unit = key.UnitOn(_machine.Units),
            FromUtc = from is null ? known?.ShownUtc : When.At(from),
            ToUtc = When.At(to),
            Arrival = source.File,
            Source = source,
        };
        _now = _now.With(key, State(after, to, source));
        return change;
    }

    private Cycle Run(string? program, string start, string? end, CycleEnding ended = CycleEnding.Finished) => new()
    {
        Machine = "mill-3",
        Program = program,
        StartUtc = When.At(start),
        EndUtc = end is null ? null : When.At(end),
        Ended = end is null ? CycleEnding.Unknown : ended,
        Source = Print(),
    };

    private static OffsetState State(decimal? value, string since, SourceLine source) =>
        new(value, When.At(since), When.At(since), null, ChangedBy.Unknown, source);

    private SourceLine Dump() => new("shares/mill-3/offsets/g54.nc", "d0d0", ++_line);

    private SourceLine Print() => new("shares/mill-3/prints/day.log", "9a9a", ++_line);
}
