using System.Numerics;

namespace SetupAudit.Readings;

/// <summary>
/// Where the program has moved to, in the coordinates of the register in force, by <see cref="ProgramScale"/>; an axis
/// that it has not moved to yet, or that something else has moved, is unknown.
/// </summary>
internal sealed class ProgramPosition
{
    private readonly long[] _at = new long[ProgramAxes.Count];
    private int _known;

    public bool Knows(int axis) => (_known & (1 << axis)) != 0;

    public long? At(int axis) => Knows(axis) ? _at[axis] : null;

    public void Set(int axis, long? value)
    {
        _known &= ~(1 << axis);
        if (value is not { } known) return;
        _known |= 1 << axis;
        _at[axis] = known;
    }

    public void MoveTo(int axis, long value)
    {
        _at[axis] = value;
        _known |= 1 << axis;
    }

    /// <summary>Moves by an amount; what was unknown stays so, and what leaves all bounds becomes so.</summary>
    public void MoveBy(int axis, long amount)
    {
        var sum = unchecked(_at[axis] + amount);
        _at[axis] = sum;
        if (sum is > ProgramScale.Most or < -ProgramScale.Most) _known &= ~(1 << axis);
    }

    public void Forget(int axes)
    {
        _known &= ~axes;
        for (var left = axes; left != 0; left &= left - 1) _at[BitOperations.TrailingZeroCount(left)] = 0;
    }
}
