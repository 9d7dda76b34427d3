using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>The part of a block that changes tools, calls their offsets and selects registers.</summary>
internal sealed class ProgramSelection(
    MachineConfig machine, ProgramModes modes, ProgramFlow flow, ProgramPosition position, ProgramStretches stretches)
{
    private const int ToolChange = 6;
    private const int TurretPlaces = 100;
    private const int LengthOffsetEnds = 490;
    private const int FirstRegister = 540;
    private const int ExtendedRegister = 541;

    private ProgramWord? _staged;

    /// <summary>A tool change: T alone only stages a tool, M6 changes to it.</summary>
    public void TakeTool(ProgramBlock block)
    {
        if (block.Last('T') is { } word)
        {
            if (machine.IsLathe) TakeTurret(block, word);
            else _staged = word;
        }
        if (machine.IsLathe || !block.HasM(ToolChange)) return;
        Change(block, _staged?.Whole is >= 0 and { } number ? number : null, _staged?.RestsOnParameters == true);
    }

    /// <summary>H and D, where they are no arguments of a call and no data.</summary>
    public void TakeOffsets(ProgramBlock block)
    {
        if (block.HasG(LengthOffsetEnds)) position.Forget(ProgramAxes.Z);
        if (HasArguments(block)) return;
        if (block.Last('H') is { } length)
        {
            position.Forget(ProgramAxes.Z);
            if (length.Whole is > 0 and { } number) stretches.CallLength(block.Line, number);
        }
        // D is a depth of cut on a lathe.
        if (!machine.IsLathe && block.Last('D') is { Whole: > 0 and { } offset })
            stretches.CallDiameter(block.Line, offset);
    }

    public void TakeRegister(ProgramBlock block)
    {
        foreach (var code in block.GCodes)
        {
            if (code == ExtendedRegister || (code == FirstRegister && TakesPlace(block)))
                Select(block, Extended(block), block.First('P')?.RestsOnParameters == true);
            else if (ProgramCodes.RegisterOf(code) is { } register) Select(block, register, block.HasReckonedCode);
            else if (code == ProgramBlock.UnknownCode) Select(block, null, isReckoned: true);
        }
    }

    // T0304 is place 3 of the turret with offset 4: common practice (no source).
    private void TakeTurret(ProgramBlock block, ProgramWord word)
    {
        var (tool, offset) = word.Whole is >= TurretPlaces and { } both
            ? (both / TurretPlaces, both % TurretPlaces)
            : (word.Whole, 0);
        Change(block, tool, word.RestsOnParameters);
        if (offset > 0) stretches.CallLength(block.Line, offset);
    }

    private void Change(ProgramBlock block, int? tool, bool isReckoned)
    {
        position.Forget(ProgramAxes.All);
        stretches.Change(block.Line, isReckoned && flow.IsInLoop ? null : tool, isReckoned);
    }

    private void Select(ProgramBlock block, Register? register, bool isReckoned)
    {
        if (isReckoned && flow.IsInLoop) register = null;
        if (register is null || register != stretches.Register) position.Forget(ProgramAxes.All);
        stretches.Select(block.Line, register, isReckoned);
    }

    private static Register? Extended(ProgramBlock block) =>
        block.First('P') is { Whole: >= 1 and <= Register.ExtendedMost and { } number }
            ? Register.Extended(number)
            : null;

    // G54 P7 means G54.1 P7 on some controls, where nothing else in the block has a P: common practice (no source).
    private bool TakesPlace(ProgramBlock block) => block.Has('P') && !HasArguments(block) && block.MCodes.IsEmpty
        && modes.Motion != ProgramMotion.Cycle && !block.HasG(ProgramCodes.Dwell)
        && !ProgramCodes.NamesCycle(block.GCodes, machine.IsLathe);

    private static bool HasArguments(ProgramBlock block) => block.HasG(ProgramCodes.DataEntry)
        || block.HasG(ProgramCodes.Call) || block.HasG(ProgramCodes.ModalCall)
        || block.HasG(ProgramCodes.ModalCallAtBlocks);
}
