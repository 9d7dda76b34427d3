using SetupAudit.Datums;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Support;

/// <summary>A program of a setup, made by hand: what it cuts in, calls, writes and probes.</summary>
internal sealed class ProgramBuilder(string program)
{
    private readonly List<RegisterScope> _registers = [];
    private readonly List<ToolScope> _tools = [];
    private readonly List<ProgramWrite> _writes = [];
    private readonly List<ProbingMove> _probing = [];
    private readonly List<string> _missing = [];
    private string? _title;
    private string _handed = "07:00";
    private bool _isUnread;
    private string? _modified;
    private bool _byLookback;
    private SetupSheet? _sheet;

    public ProgramBuilder Cuts(string register, string axes = "XYZ", decimal? lowestZ = null, int line = 12) =>
        In(register, true, axes, lowestZ, line);

    public ProgramBuilder Parks(string register, string axes = "XY") => In(register, false, axes, null, 90);

    public ProgramBuilder MayCut(string register, string axes = "") => In(register, null, axes, null, 12);

    public ProgramBuilder Tool(int tool, int? length = null, int? diameter = null, int line = 20)
    {
        _tools.Add(new ToolScope(tool, length, diameter, line));
        return this;
    }

    public ProgramBuilder Writes(
        string key, decimal? value, int line = 30, bool adds = false, bool conditional = false, string text = "G10 L2 P1",
        ProgramWriteTarget target = ProgramWriteTarget.Named, string? of = null)
    {
        var write = new ProgramWrite(line, CaseBuilder.Key(key), value, adds, conditional, text);
        _writes.Add(write with { Target = target, Program = of });
        return this;
    }

    public ProgramBuilder Probes(
        string? register = null, string sets = "", decimal? search = null, decimal? standoff = null, int line = 40,
        string kind = "single-surface")
    {
        _probing.Add(new ProbingMove
        {
            Line = line,
            Kind = kind,
            Search = search,
            Standoff = standoff,
            Register = register is null ? null : CaseBuilder.Register(register),
            Sets = Axes(sets),
        });
        return this;
    }

    public ProgramBuilder Missing(string called)
    {
        _missing.Add(called);
        return this;
    }

    public ProgramBuilder Title(string title)
    {
        _title = title;
        return this;
    }

    public ProgramBuilder Handed(string at)
    {
        _handed = at;
        return this;
    }

    public ProgramBuilder Unread()
    {
        _isUnread = true;
        return this;
    }

    /// <summary>Its text was read only from a version of that later moment.</summary>
    public ProgramBuilder ReadLater(string modified)
    {
        _modified = modified;
        return this;
    }

    public ProgramBuilder ByLookback()
    {
        _byLookback = true;
        return this;
    }

    public ProgramBuilder Sheet(Func<SetupSheet, SetupSheet> fill)
    {
        _sheet = fill(new SetupSheet
        {
            Program = program,
            Units = Unit.Millimetre,
            File = $"sheets/{program}.json",
            Sha256 = "5ee7",
            ModifiedUtc = When.At("02-20 08:00"),
        });
        return this;
    }

    public ProgramUse Build() => new()
    {
        Program = program,
        AtUtc = When.At(_handed),
        Text = _isUnread ? null : Text(),
        TextIsLater = _modified is not null,
        Scope = _isUnread ? null : new ProgramScope
        {
            Registers = _registers,
            Tools = _tools,
            Writes = _writes,
            Probing = _probing,
            Missing = _missing,
        },
        Sheet = _sheet,
        ByLookback = _byLookback,
    };

    public static IReadOnlyList<Axis> Axes(string letters) =>
        [.. letters.Select(letter => Enum.Parse<Axis>(letter.ToString()))];

    private ProgramText Text() => new()
    {
        Program = program,
        Title = _title,
        Sha256 = $"aa{program}",
        WithoutCommentsSha256 = $"bb{program}",
        File = $"shares/mill-3/programs/{program}.nc",
        ModifiedUtc = When.At(_modified ?? "02-20 08:00"),
        Lines = 400,
        Writes = _writes,
        Probing = _probing,
    };

    private ProgramBuilder In(string register, bool? cuts, string axes, decimal? lowestZ, int line)
    {
        _registers.Add(new RegisterScope
        {
            Register = CaseBuilder.Register(register),
            Cuts = cuts,
            Axes = Axes(axes),
            LowestZ = lowestZ,
            Line = line,
        });
        return this;
    }
}
