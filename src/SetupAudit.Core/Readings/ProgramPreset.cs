using SetupAudit.Datums;

namespace SetupAudit.Readings;

/// <summary>
/// The offset of G92, as RS274/NGC (3.5.18) works it out: with an offset B in force, and A what it would have to be
/// without, the new one is A + B, and is kept in the parameters from 5211 on.
/// </summary>
internal sealed class ProgramPreset(ProgramFlow flow, ProgramPosition position, bool beginsAtZero)
{
    private const int FirstParameter = 5211;
    private const int AxisCount = 6;

    // M2 and M30 set the offset to zero (RS274/NGC 3.6.1), so a program begins without one; a called program does not
    // know what its caller set.
    private readonly decimal?[] _offset = [.. Enumerable.Repeat<decimal?>(beginsAtZero ? 0 : null, AxisCount)];

    /// <summary>
    /// G92 with a word of an axis: the present position reads the value. Gives the new offset, or, where the old one is
    /// not known, what is added to it.
    /// </summary>
    public (decimal? Value, bool Adds) Set(int axis, decimal? reads, bool isConditional)
    {
        var shift = position.At(axis) is { } at ? ProgramScale.Value(at) - reads : null;
        if (axis >= AxisCount)
        {
            Arrive(axis, reads, isConditional);
            return (null, false);
        }
        var adds = shift is not null && _offset[axis] is null;
        var offset = _offset[axis] + shift;
        Keep(axis, offset, isConditional);
        Arrive(axis, reads, isConditional);
        return adds ? (shift, true) : (offset, false);
    }

    /// <summary>
    /// G92.1: the offsets and their parameters become zero. G92.2: the parameters stay. Gives the axes.
    /// </summary>
    public void Cancel(bool keepsParameters, bool isConditional)
    {
        for (var axis = 0; axis < AxisCount; axis++)
        {
            Shift(axis, 0, isConditional);
            if (!keepsParameters) flow.Assign(FirstParameter + axis, 0, isConditional);
        }
    }

    /// <summary>G92.3: the offsets become what the parameters hold.</summary>
    public void Restore(bool isConditional)
    {
        for (var axis = 0; axis < AxisCount; axis++)
            Shift(axis, flow.Parameters.Peek(FirstParameter + axis), isConditional);
    }

    public void ForgetAll() => Array.Clear(_offset);

    private void Keep(int axis, decimal? offset, bool isConditional)
    {
        _offset[axis] = isConditional ? null : offset;
        flow.Assign(FirstParameter + axis, offset, isConditional);
    }

    // The tool stays where it is; what its position reads changes by as much as the offset does.
    private void Shift(int axis, decimal? offset, bool isConditional)
    {
        var reads = position.At(axis) is { } at ? ProgramScale.Value(at) + _offset[axis] - offset : null;
        _offset[axis] = isConditional ? null : offset;
        Arrive(axis, reads, isConditional);
    }

    private void Arrive(int axis, decimal? reads, bool isConditional) =>
        position.Set(axis, isConditional ? null : ProgramScale.Of(reads));

    /// <summary>The register in which the offset is kept.</summary>
    public static OffsetKey Key(Axis axis) => OffsetKey.Datum(Register.G92, axis);
}
