using SetupAudit.Datums;

namespace SetupAudit.Readings;

/// <summary>
/// Gathers a program's stretches, each under one register and one tool, and its calls. Moves only mark the stretch in
/// hand, so that a million of them cost no memory.
/// </summary>
internal sealed class ProgramStretches(int? probeTool, ProgramFaults faults, ProgramLimits limits)
{
    private const int OffsetsMost = 100;

    private readonly List<ProgramStep> _steps = [];
    private readonly List<StepKey> _keys = [];
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
    private StepKey _forkKey;
    private bool _isForked;
    private bool _hasOtherRegister;
    private bool _hasOtherTool;

    public Register? Register => _key.Register;

    public bool RegisterUnknown => _key.RegisterUnknown;

    public bool HasMoves => _axes != 0 || _feeds || _asCalled;

    private bool HasContent => HasMoves || _selected || _changed || _lengths.Count + _diameters.Count > 0;

    /// <summary>Whether the tool in the spindle is the probe, as far as the program says.</summary>
    public bool IsProbing => probeTool is { } probe && _key.Tool == probe;

    /// <summary>A register was selected; null where the program does not say which.</summary>
    /// <param name="isReckoned">It was worked out from parameters: in a loop it would be another each time.</param>
    public void Select(int line, Register? register, bool isReckoned)
    {
        var key = _key with { Register = register, RegisterUnknown = register is null, RegisterReckoned = isReckoned };
        if (key != _key && (_selected || HasMoves)) Flush();
        Touch(line);
        Put(key);
        _selected = true;
    }

    /// <summary>A tool was changed to; null where the program does not say which.</summary>
    public void Change(int line, int? tool, bool isReckoned)
    {
        var key = _key with { Tool = tool, ToolUnknown = tool is null, ToolReckoned = isReckoned };
        if (key != _key && (_changed || HasMoves || _lengths.Count + _diameters.Count > 0)) Flush();
        Touch(line);
        Put(key);
        _changed = true;
    }

    /// <summary>From here on another way leads through the program.</summary>
    public void Fork()
    {
        if (_isForked) return;
        (_isForked, _forkKey, _hasOtherRegister, _hasOtherTool) = (true, _key, false, false);
    }

    /// <summary>
    /// The ways come together: where a register was selected or a tool changed to on one of them only, it is not known
    /// which is in force.
    /// </summary>
    public void Join(bool isLast)
    {
        if (!_isForked) return;
        if (_hasOtherRegister || _hasOtherTool) Flush();
        if (_hasOtherRegister) _key = _key with { Register = null, RegisterUnknown = true };
        if (_hasOtherTool) _key = _key with { Tool = null, ToolUnknown = true };
        _isForked = false;
        if (!isLast) Fork();
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
        Put(default);
    }

    /// <param name="doubtReckoned">
    /// Blocks ran more than once: a register or tool that was worked out from parameters may have been any.
    /// </param>
    public IReadOnlyList<ProgramStep> Finish(bool doubtReckoned)
    {
        Flush();
        for (var index = 0; doubtReckoned && index < _steps.Count; index++)
        {
            if (_keys[index].RegisterReckoned)
                _steps[index] = _steps[index] with { Register = null, RegisterUnknown = true };
            if (_keys[index].ToolReckoned) _steps[index] = _steps[index] with { Tool = null, ToolUnknown = true };
        }
        return _steps.AsReadOnly();
    }

    private void Put(StepKey key)
    {
        _key = key;
        if (!_isForked) return;
        _hasOtherRegister |= key.Register != _forkKey.Register || key.RegisterUnknown != _forkKey.RegisterUnknown;
        _hasOtherTool |= key.Tool != _forkKey.Tool || key.ToolUnknown != _forkKey.ToolUnknown;
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
        var isSameAgain = step.Calls is null && _lastKey == key;
        _lastKey = key;
        if (!isSameAgain && limits.TakeStep())
        {
            Append(key, step);
            return;
        }
        if (!isSameAgain && !_isFull)
            faults.AddLimit(step.Line, 1,
                $"the file has more than {ProgramLimits.StepsMost} stretches; from here on they are merged");
        _isFull |= !isSameAgain;
        if (_places.TryGetValue(key, out var place)) _steps[place] = Merge(_steps[place], step);
        else if (limits.TakeNewStep()) Append(key, step);
    }

    private void Append(StepKey key, ProgramStep step)
    {
        _places[key] = _steps.Count;
        _steps.Add(step);
        _keys.Add(key);
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
        Register? Register, bool RegisterUnknown, bool RegisterReckoned, int? Tool, bool ToolUnknown, bool ToolReckoned,
        string? Calls);
}
