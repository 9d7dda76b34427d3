using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>The moves of a program: where they go, what they cut, and how far probing moves search.</summary>
internal sealed class ProgramMoves(
    MachineConfig machine, ProgramModes modes, ProgramPosition position, ProgramStretches stretches)
{
    private const int ZAxis = (int)Axis.Z;

    private long? _cycleR;
    private long? _cycleZ;
    private long? _cycleFrom;
    private bool _inCycle;

    /// <summary>A line that <see cref="ProgramPlainLine"/> took apart.</summary>
    public void Move(ProgramPlainLine line, int number)
    {
        if (line.Motion >= 0) SetMotion(line.Motion == 0 ? ProgramMotion.Rapid : ProgramMotion.Feed);
        var axes = line.Axes;
        if (axes == 0 && !(line.HasCentre && modes.Motion == ProgramMotion.Feed)) return;
        stretches.Move(number, axes, modes.Motion == ProgramMotion.Feed);
        for (var left = axes; left != 0; left &= left - 1)
        {
            var axis = System.Numerics.BitOperations.TrailingZeroCount(left);
            var value = line.Values[axis];
            if (!modes.IsMachineUnit && ProgramAxes.IsLinear(axis)) value = modes.ToMachine(value);
            if (modes.IsIncremental) position.MoveBy(axis, value);
            else position.MoveTo(axis, value);
        }
        if ((axes & ProgramAxes.Z) != 0) ReachZ();
    }

    public void SetMotion(ProgramMotion motion)
    {
        if (motion != ProgramMotion.Cycle) _inCycle = false;
        modes.Motion = motion;
    }

    /// <summary>The axes that the block's words name.</summary>
    public int AxesOf(ProgramBlock block)
    {
        var axes = 0;
        foreach (var word in block.Words)
            if (TryAxis(word, out var axis, out _)) axes |= 1 << axis;
        return axes;
    }

    /// <summary>Moves as the block's words say, under the motion in force.</summary>
    public void Move(ProgramBlock block)
    {
        var axes = AxesOf(block);
        // G12 and G13 cut a round pocket where the tool stands: common practice (no source).
        var isPocket = !machine.IsLathe && (block.HasG(120) || block.HasG(130));
        if (isPocket) stretches.Move(block.Line, axes, feeds: true);
        else if (modes.Motion == ProgramMotion.Cycle) Drill(block, axes);
        else if (axes != 0 || IsArc(block)) MoveStraight(block, axes);
    }

    /// <summary>
    /// A move that searches a surface: never a cut. It stops where it meets one, which nobody knows here.
    /// </summary>
    public ProbingMove Probe(ProgramBlock block, Register? register, bool registerUnknown)
    {
        var axes = AxesOf(block);
        double squares = 0;
        decimal? along = null;
        var isKnown = axes != 0;
        foreach (var word in block.Words)
        {
            if (!TryAxis(word, out var axis, out var adds)) continue;
            var target = modes.Coordinate(word, axis);
            var from = position.At(axis) is { } at ? ProgramScale.Value(at) : (decimal?)null;
            var distance = adds || modes.IsIncremental ? target : target - from;
            isKnown &= distance is not null;
            along = Math.Abs(distance ?? 0);
            squares += (double)along * (double)along;
        }
        var isAlongOne = axes != 0 && (axes & (axes - 1)) == 0;
        var search = !isKnown ? null : isAlongOne ? along : decimal.Round((decimal)Math.Sqrt(squares), 6);
        var move = new ProbingMove
        {
            Line = block.Line,
            Kind = "straight",
            Search = search,
            Standoff = axes == ProgramAxes.Z ? Standoff(search) : null,
            Register = register,
            RegisterUnknown = registerUnknown,
        };
        stretches.Move(block.Line, axes, feeds: false);
        position.Forget(axes);
        return move;
    }

    // A search along Z for the surface that is to be Z zero starts as far above it as its Z reads, where it would reach
    // zero: that surface is the one the program gives.
    private decimal? Standoff(decimal? search) =>
        position.At(ZAxis) is > 0 and { } at && search is { } distance && ProgramScale.Value(at) <= distance
            ? ProgramScale.Value(at)
            : null;

    private void MoveStraight(ProgramBlock block, int axes)
    {
        var isAsCalled = modes.Motion == ProgramMotion.AsCalled;
        var feeds = modes.Motion == ProgramMotion.Feed || IsTurningCycle(block);
        stretches.Move(block.Line, axes, feeds, isAsCalled);
        foreach (var word in block.Words)
            if (TryAxis(word, out var axis, out var adds))
                Advance(axis, ProgramScale.Of(modes.Coordinate(word, axis)), adds);
        if ((axes & ProgramAxes.Z) != 0) ReachZ();
    }

    // A cycle's Z is the bottom and R the level it rapids to; in G91 R counts from where the cycle began and Z from R.
    private void Drill(ProgramBlock block, int axes)
    {
        if (!_inCycle) (_cycleFrom, _cycleR, _cycleZ, _inCycle) = (position.At(ZAxis), null, null, true);
        if (block.Last('R') is { } r) _cycleR = Level(modes.Length(r), _cycleFrom);
        if (block.Last('Z') is { } z) _cycleZ = Level(modes.Length(z), _cycleR);
        if (axes == 0 && !ProgramCodes.NamesCycle(block.GCodes, machine.IsLathe)) return;
        foreach (var word in block.Words)
            if (TryAxis(word, out var axis, out var adds) && axis != ZAxis)
                Advance(axis, ProgramScale.Of(modes.Coordinate(word, axis)), adds);
        if (_cycleZ is { } bottom) stretches.Reach(bottom);
        // L0 or K0 only keeps the cycle's numbers for the positions that follow: common practice (no source).
        if (block.Last('L') is { Value: 0 } || block.Last('K') is { Value: 0 }) return;
        stretches.Move(block.Line, axes, feeds: true);
        position.Set(ZAxis, modes.ReturnsToR ? _cycleR : _cycleFrom);
    }

    private long? Level(decimal? value, long? from)
    {
        var level = ProgramScale.Of(value);
        return modes.IsIncremental ? ProgramScale.Sum(level, from) : level;
    }

    private void Advance(int axis, long? value, bool adds)
    {
        if (value is not { } known) position.Forget(1 << axis);
        else if (adds || modes.IsIncremental) position.MoveBy(axis, known);
        else position.MoveTo(axis, known);
    }

    private void ReachZ()
    {
        if (position.At(ZAxis) is { } z) stretches.Reach(z);
    }

    // On a lathe U, V and W are increments of X, Y and Z: common practice (no source).
    private bool TryAxis(ProgramWord word, out int axis, out bool adds)
    {
        adds = false;
        axis = 0;
        if (!ProgramAxes.TryAxis(word.Letter, out var named)) return false;
        axis = (int)named;
        adds = machine.IsLathe && named is Axis.U or Axis.V or Axis.W;
        if (adds) axis -= (int)Axis.U;
        return true;
    }

    // A full circle names no axis, only its centre.
    private bool IsArc(ProgramBlock block) => modes.Motion == ProgramMotion.Feed
        && (block.Has('I') || block.Has('J') || block.Has('K'));

    // On many lathes G90, G92 and G94 with a feed are cycles of one cut: common practice (no source).
    private bool IsTurningCycle(ProgramBlock block) => machine.IsLathe && block.Has('F')
        && (block.HasG(900) || block.HasG(ProgramCodes.Preset) || block.HasG(940));
}
