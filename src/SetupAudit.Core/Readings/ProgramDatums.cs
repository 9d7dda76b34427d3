using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>The part of a block that sets datums, tool offsets and parameters.</summary>
internal sealed class ProgramDatums(
    MachineConfig machine, ProgramModes modes, ProgramFlow flow, ProgramPosition position, ProgramPreset preset,
    ProgramStretches stretches, ProgramFaults faults, ProgramLimits limits)
{
    private const int AxisCount = 6;
    private const int TripFirst = 5061;

    private readonly ProgramEntry _entry = new(machine, modes, faults);
    private readonly ProgramWrites _writes = new(faults, limits);

    public int Count => _writes.Count;

    public IReadOnlyList<ProgramWrite> List() => _writes.List();

    public void Doubt(int from, ProgramAssignments assigned) => _writes.Doubt(from, assigned);

    public void DoubtLine(int line) => _writes.DoubtLine(line);

    /// <summary>G10, G52 and G92 with all that belongs to them; true where the block's axis words are data.</summary>
    public bool Take(ProgramBlock block, ReadOnlySpan<byte> line)
    {
        var isEntry = _entry.Read(block);
        if (isEntry)
            foreach (var entry in _entry.Entries) TakeEntry(entry, block, line);
        if (block.HasG(ProgramCodes.LocalShift)) TakeLocalShift(block, line);
        if (block.HasG(ProgramCodes.Preset) || (machine.IsLathe && block.HasG(ProgramCodes.LathePreset)))
            TakePreset(block, line);
        if (block.HasG(ProgramCodes.PresetCancel)) CancelPreset(block, line);
        if (block.HasG(ProgramCodes.PresetSuspend)) preset.Cancel(keepsParameters: true, IsUnsure(block));
        if (block.HasG(ProgramCodes.PresetRestore)) preset.Restore(IsUnsure(block));
        return isEntry;
    }

    /// <summary>
    /// The parameters that the block sets: they take effect when all else of it has run (RS274/NGC 3.3.3).
    /// </summary>
    /// <param name="callsAtMoves">A program is called at every move (G66), and may set what programs share.</param>
    public void TakeSettings(ProgramBlock block, ReadOnlySpan<byte> line, bool callsAtMoves)
    {
        foreach (var setting in block.Settings)
        {
            if (setting.Number is not { } number)
            {
                if (setting.MayBeDatum) WriteUnknown(block, line);
                flow.ForgetAll();
                continue;
            }
            if (ParameterTable.TryFind(machine, number, out var key))
                Write(block, line, key, ExpressionMath.Rounded(setting.Value), adds: false, ProgramWriteTarget.Named);
            var mayChange = callsAtMoves && number >= ExpressionParameters.FirstShared;
            flow.Assign(number, setting.Value, IsUnsure(block) || mayChange);
        }
    }

    /// <summary>
    /// A probing move sets the parameters of the trip point (RS274/NGC 3.5.9): only the control knows them.
    /// </summary>
    public void ForgetTrip()
    {
        for (var axis = 0; axis < AxisCount; axis++) flow.Assign(TripFirst + axis, null, isConditional: true);
    }

    private void TakeEntry(ProgramEntry.Entry entry, ProgramBlock block, ReadOnlySpan<byte> line)
    {
        var isUnsure = entry.IsConditional || IsUnsure(block);
        Add(block, line, entry.Key, entry.Value, entry.Adds, entry.Target, isUnsure, entry.PlaceRests);
        // The register in force may be the one that was set.
        position.Forget(entry.Key.IsTool ? ProgramAxes.Z : ProgramAxes.All);
        if (entry.Target == ProgramWriteTarget.Named && ProgramDatumNumbers.TryNumber(entry.Key, out var number))
            flow.Assign(number, entry.Adds ? null : entry.Value, isUnsure);
    }

    // A shift inside the register in force, until G52 with zeros or the program's end: common practice (no source).
    private void TakeLocalShift(ProgramBlock block, ReadOnlySpan<byte> line)
    {
        var target = stretches.RegisterUnknown ? ProgramWriteTarget.Unknown
            : stretches.Register is null ? ProgramWriteTarget.InForce
            : ProgramWriteTarget.Named;
        foreach (var word in block.Words)
            if (ProgramAxes.TryAxis(word.Letter, out var axis))
                Write(block, line, OffsetKey.Datum(stretches.Register ?? default, axis),
                    modes.Coordinate(word, (int)axis), adds: true, target);
    }

    private void TakePreset(ProgramBlock block, ReadOnlySpan<byte> line)
    {
        // With a feed it is a threading cycle on many lathes; without a word of an axis it limits the spindle.
        if (machine.IsLathe && block.Has('F')) return;
        foreach (var word in block.Words)
        {
            if (!ProgramAxes.TryAxis(word.Letter, out var axis)) continue;
            var (value, adds) = preset.Set((int)axis, modes.Coordinate(word, (int)axis), IsUnsure(block));
            Write(block, line, OffsetKey.Datum(Register.G92, axis), value, adds, ProgramWriteTarget.Named);
        }
    }

    private void CancelPreset(ProgramBlock block, ReadOnlySpan<byte> line)
    {
        preset.Cancel(keepsParameters: false, IsUnsure(block));
        for (var axis = Axis.X; axis <= Axis.Z; axis++)
            Write(block, line, OffsetKey.Datum(Register.G92, axis), 0, adds: false, ProgramWriteTarget.Named);
    }

    private void WriteUnknown(ProgramBlock block, ReadOnlySpan<byte> line)
    {
        for (var axis = Axis.X; axis <= Axis.Z; axis++)
            Write(block, line, OffsetKey.Datum(default, axis), null, adds: false, ProgramWriteTarget.Unknown);
    }

    private void Write(
        ProgramBlock block, ReadOnlySpan<byte> line, OffsetKey key, decimal? value, bool adds,
        ProgramWriteTarget target) =>
        Add(block, line, key, value, adds, target, IsUnsure(block), placeRests: false);

    private void Add(
        ProgramBlock block, ReadOnlySpan<byte> line, OffsetKey key, decimal? value, bool adds,
        ProgramWriteTarget target, bool isUnsure, bool placeRests)
    {
        var text = ProgramComments.TextOf(line) ?? "";
        var write = new ProgramWrite(block.Line, key, value, adds, isUnsure || flow.IsConditional, text);
        _writes.Add(write with { Target = target }, ProgramReads.Of(flow.Parameters), placeRests);
    }

    /// <summary>Whether the block itself may not run, or only in part.</summary>
    private static bool IsUnsure(ProgramBlock block) => block.IsConditional || block.Flow.HasFlag(ProgramFlowWord.If);
}
