using System.Globalization;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>Turns a block that enters data into readings.</summary>
internal readonly ref struct SettingWriter(MachineConfig machine, List<OffsetReading> readings)
{
    private const decimal RotaryIncrement = 0.001m;
    private const string TablesKnown = "L2, L20 and L10 to L13";

    /// <summary>Adds the readings of a block; or adds none and says what is wrong with it.</summary>
    public Fault? Write(ref readonly WordBlock block, ref readonly SettingModes modes, int line)
    {
        if (modes.IsOtherEntry) return null;
        if (block.IsOdd && Check(in block, line) is { } fault) return fault;
        return modes.Table switch
        {
            2 => WriteDatum(in block, in modes, line, isPosition: false),
            20 when machine.L20IsAdditional => WriteExtended(in block, in modes, line),
            20 => WriteDatum(in block, in modes, line, isPosition: true),
            10 => WriteTool(in block, in modes, line, ToolPart.Length),
            11 => WriteTool(in block, in modes, line, ToolPart.LengthWear),
            12 => WriteTool(in block, in modes, line, ToolPart.Diameter),
            13 => WriteTool(in block, in modes, line, ToolPart.DiameterWear),
            SettingModes.None => new Fault(line, 1, $"G10 has no L here; {TablesKnown} set offsets"),
            _ => Wrong(in block, 'L', line, $"is not known; {TablesKnown} set offsets"),
        };
    }

    private static Fault? Check(ref readonly WordBlock block, int line)
    {
        if (block.Repeated is { Column: > 0 } twice)
            return new Fault(line, twice.Column, $"{twice.Letter} stands twice in one block, and only one can hold");
        if (block.WorkedOut is { Column: > 0 } value)
            return new Fault(
                line, value.Column, $"{value.Letter} is given by an expression; a dump holds plain numbers");
        if (block.AfterComma is { Column: > 0 } comma)
            return new Fault(line, comma.Column, $"a comma stands before {comma.Letter}; only moves have such words");
        // RS274/NGC has no word E, and "X1e999" must not pass for X1.
        if (block.Has('E'))
            return new Fault(
                line, block.Column('E'), "E is no word of a data setting; numbers are written without exponent");
        if (block is { HasInch: true, HasMillimetre: true } or { HasAbsolute: true, HasIncremental: true })
            return new Fault(line, 1, "two G words of one group stand in this block, and only one can hold");
        for (var index = 0; index < block.Count; index++)
        {
            var letter = block.LetterAt(index);
            if (IsValue(letter) && !block.Number(letter).FitsMachine)
                return Wrong(in block, letter, line, "is beyond any machine");
        }
        return null;
    }

    private Fault? WriteDatum(ref readonly WordBlock block, ref readonly SettingModes modes, int line, bool isPosition)
    {
        var number = modes.Place;
        if (number == SettingModes.None) return NoPlace(line, "a register");
        // With a present position, P0 means the register in force, which a dump does not tell.
        var lowest = isPosition ? 1 : 0;
        if (number < lowest || number > 9)
            return Wrong(in block, 'P', line, $"names no register; P{lowest} to P9 do");
        var register = number == 0 ? Register.Common : Register.System(number);
        WriteAxes(in block, in modes, line, register, isPosition);
        return null;
    }

    private Fault? WriteExtended(ref readonly WordBlock block, ref readonly SettingModes modes, int line)
    {
        var number = modes.Place;
        if (number == SettingModes.None) return NoPlace(line, "a register");
        if (number is < 1 or > Register.ExtendedMost)
            return Wrong(in block, 'P', line, $"names no register of G54.1; P1 to P{Register.ExtendedMost} do");
        WriteAxes(in block, in modes, line, Register.Extended(number), isPosition: false);
        return null;
    }

    private void WriteAxes(
        ref readonly WordBlock block, ref readonly SettingModes modes, int line, Register register, bool isPosition)
    {
        var how = How(in block, in modes, isPosition);
        for (var index = 0; index < block.Count; index++)
        {
            var letter = block.LetterAt(index);
            if (!TryAxis(letter, out var axis)) continue;
            // On a lathe U and W are increments of X and Z (contract section 3).
            var adds = machine.IsLathe && axis is Axis.U or Axis.W;
            if (adds) axis = axis == Axis.U ? Axis.X : Axis.Z;
            var key = OffsetKey.Datum(register, axis);
            var number = block.Number(letter);
            var value = key.IsLinear ? Linear(number, in modes) : Rotary(number);
            readings.Add(new OffsetReading(line, block.Column(letter), key, value, adds ? Adding(how) : how));
        }
    }

    private Fault? WriteTool(ref readonly WordBlock block, ref readonly SettingModes modes, int line, ToolPart part)
    {
        var tool = modes.Place;
        if (tool == SettingModes.None) return NoPlace(line, "a tool");
        if (tool is < 0 or > OffsetKey.ToolMost)
            return Wrong(in block, 'P', line, $"names no tool; P0 to P{OffsetKey.ToolMost} do");
        if (machine.IsLathe && part is ToolPart.Length or ToolPart.LengthWear)
            return WriteTurningTool(in block, in modes, line, tool, part == ToolPart.LengthWear);
        if (!block.Has('R')) return NoValue(in block, line);
        var value = Linear(block.Number('R'), in modes);
        // L12 and L13 hold a radius on such a machine; our tool offset is a diameter, and doubling keeps the digits.
        if (!machine.DOnDiameter && part is ToolPart.Diameter or ToolPart.DiameterWear) value *= 2;
        readings.Add(new OffsetReading(
            line, block.Column('R'), OffsetKey.OfTool(tool, part), value, How(in block, in modes, isPosition: false)));
        return null;
    }

    /// <summary>
    /// A turning tool has X, Z, nose radius R and tip Q, each with its wear: L10 is geometry, L11 wear (common
    /// practice, no source). A G10 with P and no L means geometry on some and wear on others, so it stays a fault.
    /// </summary>
    private Fault? WriteTurningTool(
        ref readonly WordBlock block, ref readonly SettingModes modes, int line, int tool, bool wear)
    {
        var how = How(in block, in modes, isPosition: false);
        if (block.Has('Q') && !block.Number('Q').TryWhole(out _))
            return Wrong(in block, 'Q', line, "is no tip; a tip is a whole number");
        for (var index = 0; index < block.Count; index++)
        {
            var letter = block.LetterAt(index);
            if (TurningPart(letter, wear) is not { } part) continue;
            var number = block.Number(letter);
            var value = part == ToolPart.Tip ? number.Value : Linear(number, in modes);
            // A tip is a kind and not a length: nothing is added to it.
            var itsHow = letter is 'U' or 'W' ? Adding(how)
                : part == ToolPart.Tip && how == ReadingHow.Adds ? ReadingHow.Stands
                : how;
            readings.Add(new OffsetReading(line, block.Column(letter), OffsetKey.OfTool(tool, part), value, itsHow));
        }
        return null;
    }

    private static ToolPart? TurningPart(char letter, bool wear) => letter switch
    {
        'X' or 'U' => wear ? ToolPart.XWear : ToolPart.X,
        'Z' or 'W' => wear ? ToolPart.ZWear : ToolPart.Z,
        'R' => wear ? ToolPart.NoseRadiusWear : ToolPart.NoseRadius,
        'Q' => ToolPart.Tip,
        _ => null,
    };

    private ReadingHow How(ref readonly WordBlock block, ref readonly SettingModes modes, bool isPosition) =>
        modes.Depends(in block) ? ReadingHow.Conditional
        : isPosition ? ReadingHow.Unresolved
        : modes.Incremental && machine.Dialect.G91Adds ? ReadingHow.Adds
        : ReadingHow.Stands;

    private static ReadingHow Adding(ReadingHow how) => how == ReadingHow.Stands ? ReadingHow.Adds : how;

    private decimal Linear(NumberText number, ref readonly SettingModes modes)
    {
        var value = machine.WithoutPointIsIncrements ? number.Counted(modes.Increment) : number.Value;
        return modes.Unit == machine.Units ? value : Length.Convert(value, modes.Unit, machine.Units);
    }

    private decimal Rotary(NumberText number) =>
        machine.WithoutPointIsIncrements ? number.Counted(RotaryIncrement) : number.Value;

    private static bool TryAxis(char letter, out Axis axis)
    {
        // R, U, V, W, X, Y, Z and A, B, C; no other letter is an axis.
        const sbyte no = -1;
        ReadOnlySpan<sbyte> axes =
        [
            (sbyte)Axis.A, (sbyte)Axis.B, (sbyte)Axis.C, no, no, no, no, no, no, no, no, no, no, no, no, no, no,
            (sbyte)Axis.R, no, no, (sbyte)Axis.U, (sbyte)Axis.V, (sbyte)Axis.W,
            (sbyte)Axis.X, (sbyte)Axis.Y, (sbyte)Axis.Z,
        ];
        axis = (Axis)axes[letter - 'A'];
        return (sbyte)axis != no;
    }

    private static bool IsValue(char letter) => TryAxis(letter, out _) || letter == 'Q';

    // A block may only open the entry, "G10 L10 P3"; but a value under another letter is one that would be lost.
    private static Fault? NoValue(ref readonly WordBlock block, int line)
    {
        for (var index = 0; index < block.Count; index++)
        {
            var letter = block.LetterAt(index);
            if (IsValue(letter))
                return new Fault(line, block.Column(letter), "R is missing; it holds the value of a tool offset");
        }
        return null;
    }

    private static Fault NoPlace(int line, string what) => new(line, 1, $"P is missing; it says {what} the block sets");

    // The letter may come from a block before, when G10 stays in force; the fault is then this block's as a whole.
    private static Fault Wrong(ref readonly WordBlock block, char letter, int line, string reason) => block.Has(letter)
        ? new Fault(line, block.Column(letter), $"{letter}{Shown(block.Number(letter))} {reason}")
        : new Fault(line, 1, $"the {letter} in force {reason}");

    private static string Shown(NumberText number) => number.Value.ToString(CultureInfo.InvariantCulture);
}
