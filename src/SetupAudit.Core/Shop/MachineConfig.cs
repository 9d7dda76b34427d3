using SetupAudit.Datums;
using SetupAudit.Units;

namespace SetupAudit.Shop;

/// <summary>One machine: what its numbers mean, and where its files are.</summary>
public sealed record MachineConfig
{
    public required string Name { get; init; }

    public required MachineKind Kind { get; init; }

    /// <summary>For a lathe: whether X is held on diameter; null on a mill.</summary>
    public bool? XOnDiameter { get; init; }

    /// <summary>Millimetre or Inch.</summary>
    public required Unit Units { get; init; }

    /// <summary>Least increment, in Units.</summary>
    public decimal Resolution { get; init; } = 0.001m;

    /// <summary>Whether a number without a point counts increments ("12345" is 12.345) or units.</summary>
    public bool WithoutPointIsIncrements { get; init; } = true;

    /// <summary>
    /// Machine coordinates an axis can reach, in Units; an axis that is not given has no limits here.
    /// </summary>
    public IReadOnlyDictionary<Axis, Bounds> Travel { get; init; } = new Dictionary<Axis, Bounds>();

    /// <summary>Z of the register stays 0 and every tool is touched on the part.</summary>
    public bool ZFromToolLengths { get; init; }

    /// <summary>Whether L12 and L13 hold a diameter; else a radius.</summary>
    public bool DOnDiameter { get; init; } = true;

    public decimal? StylusDiameter { get; init; }

    public int? ProbeTool { get; init; }

    public IReadOnlyList<decimal> Risers { get; init; } = [];

    public IReadOnlyList<decimal> Gauges { get; init; } = [];

    public IReadOnlyList<decimal> EdgeFinders { get; init; } = [];

    /// <summary>Usual start of a probing search above the surface, in Units; null where not configured.</summary>
    public decimal? Standoff { get; init; }

    /// <summary>Longest search thought sane, in Units; null where not configured.</summary>
    public decimal? Search { get; init; }

    /// <summary>
    /// G10 L20 Pn sets G54.1 Pn; else it makes the present position read the value, which leaves the register
    /// unknown.
    /// </summary>
    public bool L20IsAdditional { get; init; } = true;

    /// <summary>IANA name; the shop's where not configured.</summary>
    public string? TimeZone { get; init; }

    /// <summary>How far the machine's own clock is ahead of the truth.</summary>
    public TimeSpan ClockOffset { get; init; }

    public IReadOnlyList<WatchConfig> Watch { get; init; } = [];

    public IReadOnlyList<ParameterMap> Parameters { get; init; } = [];

    public IReadOnlyList<ProbingCall> ProbingCalls { get; init; } = [];

    /// <summary>A shop's own names of registers.</summary>
    public IReadOnlyDictionary<string, Register> Names { get; init; } =
        new Dictionary<string, Register>(StringComparer.OrdinalIgnoreCase);

    public DialectConfig Dialect { get; init; } = new();

    public bool IsLathe => Kind == MachineKind.Lathe;

    /// <summary>Reads a register by the trade's names or the shop's own.</summary>
    public bool TryParseRegister(string? text, out Register register) =>
        Register.TryParse(text, out register) || (text is not null && Names.TryGetValue(text.Trim(), out register));
}
