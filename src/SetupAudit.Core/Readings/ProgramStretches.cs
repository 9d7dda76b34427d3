using SetupAudit.Datums;

namespace SetupAudit.Readings;

/// <summary>
/// Gathers a program's stretches, each under one register and one tool, and its calls. Moves only mark the stretch in
/// hand, so that a million of them cost no memory.
/// </summary>
internal sealed class ProgramStretches(int? probeTool, ProgramFaults faults)
{
    /// <summary>
    /// More stretches than any program has; what follows is merged into those of the same register and tool.
    /// </summary>
    public const int StepsMost = 10_000;

    private const int OffsetsMost = 100;

    private readonly List<ProgramStep> _steps = [];
    private readonly Dictionary<StepKey, int> _places = [];
    private readonly List<int> _lengths = [];
    private readonly List<int> _diameters = [];
    private StepKey _key;
    private StepKey? _lastKey;
    private int _line;
    private bool _selected;
    private bool _changed;
    private bool _feeds;
    private bool _asCalled;
    private int _axes;
    private long _lowest = long.MaxValue;
    private bool _isFull;

    public Register? Register => _key.Register;

    public bool RegisterUnknown => _key.RegisterUnknown;

    public bool HasMoves => _axes != 0 || _feeds || _asCalled;

    /// <summary>Whether anything was gathered yet.</summary>
    public bool IsEmpty => _steps.Count == 0 && !HasContent;

    private bool HasContent => HasMoves || _selected || _changed || _lengths.Count + _diameters.Count > 0;

    /// <summary>Whether the tool in the spindle is the probe, as far as the program says.</summary>
    public bool IsProbing => probeTool is { } probe && _key.Tool == probe;

    /// <summary>
    /// A register was selected; null with <paramref name="unknown"/> where the program does not say which.
    /// </summary>
    public void Select(int line, Register? register, bool unknown)
    {
        var key = _key with { Register = register, RegisterUnknown = unknown };
        if (key != _key && (_selected || HasMoves)) Flush();
        Touch(line);
        _key = key;
        _selected = true;
    }

    /// <summary>A tool was changed to; null where the program does not say which.</summary>
    public void Change(int line, int? tool)
    {
        var key = _key with { Tool = tool, ToolUnknown = tool is null };
        if (key != _key && (_changed || HasMoves || _lengths.Count + _diameters.Count > 0)) Flush();
        Touch(line);
        _key = key;
        _changed = true;
    }

    public void CallLength(int line, int offset) => CallOffset(line, _lengths, offset);

    public void CallDiameter(int line, int offset) => CallOffset(line, _diameters, offset);

    /// <summary>
    /// A move named these axes. It feeds, or its motion is the one in force when the program was called.
    /// </summary>
    public void Move(int line, int axes, bool feeds, bool asCalled = false)
    {
        if (_line == 0) _line = line;
        _axes |= axes;
        _feeds |= feeds;
        _asCalled |= asCalled;
    }

    /// <summary>A move went to this Z, by <see cref="ProgramScale"/>.</summary>
    public void Reach(long z)
    {
        if (z < _lowest) _lowest = z;
    }

    /// <summary>A call of another program; what it leaves in force holds behind it.</summary>
    public void Call(int line, string name, string? inFull, bool feeds)
    {
        Flush();
        var key = _key with { Calls = name };
        Add(key, new ProgramStep
        {
            Line = line,
            Register = _key.Register,
            RegisterUnknown = _key.RegisterUnknown,
            Tool = _key.Tool,
            ToolUnknown = _key.ToolUnknown,
            Calls = name,
            CallsInFull = inFull,
            CutsIfCalledCutting = feeds && !IsProbing,
        });
        _key = default;
    }

    public IReadOnlyList<ProgramStep> Finish()
    {
        Flush();
        return _steps.AsReadOnly();
    }

    private void CallOffset(int line, List<int> offsets, int offset)
    {
        Touch(line);
        if (offsets.Count < OffsetsMost && !offsets.Contains(offset)) offsets.Add(offset);
    }

    private void Touch(int line)
    {
        if (_line == 0) _line = line;
    }

    private void Flush()
    {
        if (HasContent)
            Add(_key, new ProgramStep
            {
                Line = _line,
                Register = _key.Register,
                RegisterUnknown = _key.RegisterUnknown,
                Tool = _key.Tool,
                ToolUnknown = _key.ToolUnknown,
                Cuts = _feeds && !IsProbing,
                CutsIfCalledCutting = _asCalled && !IsProbing,
                Axes = ProgramAxes.Of(_axes),
                LowestZ = _lowest == long.MaxValue ? null : ProgramScale.Value(_lowest),
                LengthOffsets = [.. _lengths],
                DiameterOffsets = [.. _diameters],
            });
        (_line, _axes, _lowest) = (0, 0, long.MaxValue);
        _selected = _changed = _feeds = _asCalled = false;
        _lengths.Clear();
        _diameters.Clear();
    }

    private void Add(StepKey key, ProgramStep step)
    {
        var isSameAgain = _steps.Count > 0 && step.Calls is null && _lastKey == key;
        if (!isSameAgain && _steps.Count < StepsMost)
        {
            _places[key] = _steps.Count;
            _steps.Add(step);
            _lastKey = key;
            return;
        }
        if (!isSameAgain && !_isFull)
            faults.AddLimit(step.Line, 1,
                $"the program has more than {StepsMost} stretches; those from here on are merged with earlier ones");
        _isFull |= !isSameAgain;
        if (_places.TryGetValue(key, out var place)) _steps[place] = Merge(_steps[place], step);
        else if (_steps.Count < StepsMost * 2)
        {
            _places[key] = _steps.Count;
            _steps.Add(step);
        }
        _lastKey = key;
    }

    private static ProgramStep Merge(ProgramStep first, ProgramStep next) => first with
    {
        Cuts = first.Cuts || next.Cuts,
        CutsIfCalledCutting = first.CutsIfCalledCutting || next.CutsIfCalledCutting,
        Axes = [.. first.Axes.Union(next.Axes).Order()],
        LowestZ = first.LowestZ is { } low && (next.LowestZ is not { } other || low <= other) ? low : next.LowestZ,
        LengthOffsets = [.. first.LengthOffsets.Union(next.LengthOffsets).Take(OffsetsMost)],
        DiameterOffsets = [.. first.DiameterOffsets.Union(next.DiameterOffsets).Take(OffsetsMost)],
    };

    private readonly record struct StepKey(
        Register? Register, bool RegisterUnknown, int? Tool, bool ToolUnknown, string? Calls);
}
