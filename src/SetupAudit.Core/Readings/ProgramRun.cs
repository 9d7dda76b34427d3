using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>
/// Follows one program block by block, in the order in which a control executes the words of a block (RS274/NGC
/// table 8), and gathers what it does to datums, tools and registers. One pass, in bounded memory.
/// </summary>
internal sealed class ProgramRun
{
    private const int LocalCall = 97;
    private const int Return = 99;

    private readonly MachineConfig _machine;
    private readonly ProgramFlow _flow;
    private readonly ProgramPosition _position = new();
    private readonly ProgramStretches _stretches;
    private readonly ProgramSelection _selection;
    private readonly ProgramMoves _moves;
    private readonly ProgramPreset _preset;
    private readonly ProgramDatums _datums;
    private readonly ProgramProbings _probings;
    private readonly ProgramProbingCalls _probingCalls;
    private bool _callsAtMoves;
    private bool _callsLocally;

    public ProgramRun(
        MachineConfig machine, ProgramFaults faults, ProgramLimits limits, ProgramProbingCalls probingCalls,
        bool isFirst)
    {
        _machine = machine;
        _probingCalls = probingCalls;
        Modes = new ProgramModes(machine);
        _probings = new ProgramProbings(faults, limits);
        _flow = new ProgramFlow(new ExpressionParameters()) { OnDoubt = Doubt };
        _stretches = new ProgramStretches(machine.ProbeTool, faults, limits);
        _selection = new ProgramSelection(machine, Modes, _flow, _position, _stretches);
        _moves = new ProgramMoves(machine, Modes, _position, _stretches);
        _preset = new ProgramPreset(_flow, _position, isFirst);
        _datums = new ProgramDatums(machine, Modes, _flow, _position, _preset, _stretches, faults, limits);
    }

    public ProgramModes Modes { get; }

    public ExpressionParameters Parameters => _flow.Parameters;

    /// <summary>The first unit the program names.</summary>
    public Unit? Units { get; private set; }

    /// <summary>Whether a block has run.</summary>
    public bool HasBegun { get; private set; }

    /// <summary>The program has ended; what follows runs only where a jump leads to it.</summary>
    public bool HasEnded { get; private set; }

    /// <summary>
    /// Whether a plain move needs nothing but <see cref="Move"/>: its motion is known, and it will run.
    /// </summary>
    public bool TakesPlainMoves => !HasEnded && Modes.Motion is ProgramMotion.Rapid or ProgramMotion.Feed;

    public IReadOnlyList<ProgramStep> Steps { get; private set; } = [];

    public IReadOnlyList<ProgramWrite> Writes { get; private set; } = [];

    public IReadOnlyList<ProbingMove> Probing { get; private set; } = [];

    /// <summary>Whether a jump leads to the block with that N number.</summary>
    public bool IsAwaited(int label) => _flow.AwaitsLabel && _flow.Awaits(label);

    /// <summary>
    /// A block with that N number begins. Where a jump leads to it, what stands between may not have run: the program
    /// goes on, and nothing is sure of where the tool is.
    /// </summary>
    public void Arrive(int label)
    {
        if (!_flow.Arrive(label)) return;
        HasEnded = false;
        _stretches.Join(isLast: !_flow.IsForked);
        ForgetPlace();
    }

    /// <summary>Runs a line that is nothing but a plain move.</summary>
    public void Move(ProgramPlainLine line, int number)
    {
        HasBegun = true;
        _moves.Move(line, number);
    }

    /// <summary>Runs a block, which stands so in the file.</summary>
    public void Run(ProgramBlock block, ReadOnlySpan<byte> line)
    {
        if (HasEnded || (block.IsEmpty && !block.HasFault)) return;
        HasBegun |= !block.HasFault;
        BeginFlow(block);
        _selection.TakeTool(block);
        TakeUnit(block);
        _selection.TakeOffsets(block);
        _selection.TakeRegister(block);
        TakeModes(block);
        var isData = _datums.Take(block, line);
        if (!TakeProbingCall(block) && !TakeCall(block, line, isData)) TakeMoves(block, isData);
        _datums.TakeSettings(block, line, _callsAtMoves);
        EndFlow(block);
        if (block.HasFault) _position.Forget(ProgramAxes.All);
    }

    /// <summary>The file is cut off within that line, perhaps within a number: its values are not known.</summary>
    public void DoubtLine(int line)
    {
        _datums.DoubtLine(line);
        _probings.DoubtLine(line);
    }

    /// <summary>Closes the lists: nothing more is run.</summary>
    public void Finish()
    {
        var isDoubtful = _flow.Finish();
        (Steps, Writes, Probing) = (_stretches.Finish(isDoubtful), _datums.List(), _probings.List());
    }

    private void BeginFlow(ProgramBlock block)
    {
        if (block.Flow == ProgramFlowWord.None) return;
        var mark = new ProgramMark(_datums.Count, _probings.Count);
        var isLoop = block.Flow.HasFlag(ProgramFlowWord.LoopBegins);
        if (isLoop) _flow.BeginLoop(mark);
        if (block.Flow.HasFlag(ProgramFlowWord.BranchBegins))
        {
            _flow.BeginBranch(mark);
            _stretches.Fork();
        }
        if (isLoop) ForgetPlace();
    }

    private void EndFlow(ProgramBlock block)
    {
        if (block.Flow.HasFlag(ProgramFlowWord.GoTo))
        {
            _flow.Jump(block.GoTo);
            _stretches.Fork();
        }
        if ((block.Flow & (ProgramFlowWord.LoopEnds | ProgramFlowWord.BranchEnds)) != 0)
        {
            _flow.End();
            _stretches.Join(isLast: !_flow.IsForked);
            ForgetPlace();
        }
        var isSure = !block.IsConditional && !block.Flow.HasFlag(ProgramFlowWord.If);
        // Behind the end stand the parts that M97 calls by their N numbers, on the controls that have it.
        HasEnded |= isSure && !_callsLocally && (block.HasM(2) || block.HasM(30) || block.HasM(Return));
    }

    private void TakeUnit(ProgramBlock block)
    {
        foreach (var code in block.GCodes)
        {
            if (code is not (ProgramCodes.Inch or ProgramCodes.Millimetre)) continue;
            var unit = code == ProgramCodes.Inch ? Unit.Inch : Unit.Millimetre;
            Units ??= unit;
            Modes.TakeUnit(unit);
        }
    }

    private void TakeModes(ProgramBlock block)
    {
        foreach (var code in block.GCodes)
        {
            if (code is 900 or 910) Modes.IsIncremental = code == 910;
            if (code is 980 or 990) Modes.ReturnsToR = code == 990;
            if (ProgramCodes.MotionOf(code, _machine.IsLathe) is { } motion) _moves.SetMotion(motion);
            if (ProgramCodes.TurnsCoordinates(code)) _position.Forget(ProgramAxes.All);
        }
    }

    private void TakeMoves(ProgramBlock block, bool isData)
    {
        var isTaken = isData;
        foreach (var code in block.GCodes)
        {
            if (!ProgramCodes.TakesAxes(code, _machine.IsLathe)) continue;
            isTaken = true;
            if (ProgramCodes.IsOwn(code)) _flow.ForgetShared();
            // Reference points and machine coordinates lie anywhere in the register's own.
            if (ProgramCodes.MovesElsewhere(code))
                _position.Forget(_moves.AxesOf(block) is var axes and not 0 ? axes : ProgramAxes.All);
        }
        if (isTaken) return;
        if ((Modes.Motion == ProgramMotion.Probe || block.HasG(ProgramCodes.Skip)) && _moves.AxesOf(block) != 0)
        {
            var move = _moves.Probe(block, _stretches.Register, _stretches.RegisterUnknown);
            _probings.Add(move, ProgramReads.Of(Parameters));
            _datums.ForgetTrip();
        }
        else _moves.Move(block);
    }

    private bool TakeProbingCall(ProgramBlock block)
    {
        if (_probingCalls.Find(block) is not { } routine) return false;
        var move = ProgramProbingCalls.MoveOf(routine, block, Modes, _stretches.Register, _stretches.RegisterUnknown);
        _probings.Add(move, ProgramReads.Of(Parameters));
        _flow.ForgetShared();
        ForgetPlace();
        return true;
    }

    private bool TakeCall(ProgramBlock block, ReadOnlySpan<byte> line, bool isData)
    {
        if (block.HasG(ProgramCodes.ModalCallEnds)) _callsAtMoves = false;
        if (block.HasM(LocalCall))
        {
            _callsLocally = true;
            _flow.ForgetAll();
            ForgetPlace();
        }
        var name = ProgramCalls.Name(block, line, _machine.Dialect, out var inFull, out var hasArguments);
        if (name is null) return false;
        // A block may move first and call then; what a call with arguments moves is the called program's.
        if (!hasArguments) TakeMoves(block, isData);
        _callsAtMoves |= block.HasG(ProgramCodes.ModalCall) || block.HasG(ProgramCodes.ModalCallAtBlocks);
        _stretches.Call(block.Line, name, inFull, Modes.Motion is ProgramMotion.Feed or ProgramMotion.Cycle);
        if (hasArguments) _flow.ForgetShared();
        else _flow.ForgetAll();
        ForgetPlace();
        return true;
    }

    private void ForgetPlace()
    {
        _position.Forget(ProgramAxes.All);
        _preset.ForgetAll();
    }

    private void Doubt(ProgramMark from, ProgramAssignments assigned)
    {
        _datums.Doubt(from.Writes, assigned);
        _probings.Doubt(from.Probing, assigned);
    }
}
