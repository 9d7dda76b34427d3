using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>
/// Data setting inside a program: G10 and the blocks that go on with it. The same blocks as
/// <see cref="DataSettingReader"/> reads, but with values that may have to be worked out, or are not known.
/// </summary>
internal sealed class ProgramEntry(MachineConfig machine, ProgramModes modes, ProgramFaults faults)
{
    private ProgramWord? _table;
    private ProgramWord? _place;
    private bool _isOpen;
    private bool _isConditional;

    /// <summary>What the block in hand sets: filled by <see cref="Read"/>.</summary>
    public List<Entry> Entries { get; } = [];

    /// <summary>Whether the block enters data; <see cref="Entries"/> then says what.</summary>
    public bool Read(ProgramBlock block)
    {
        Entries.Clear();
        if (block.HasG(110)) _isOpen = false;
        if (block.HasG(100)) Open(block);
        else if (_isOpen && GoesOn(block)) GoOn(block);
        else return false;
        Enter(block);
        return true;
    }

    private static bool GoesOn(ProgramBlock block) =>
        !block.HasCodes && (block.Has('L') || block.Has('P'));

    private void Open(ProgramBlock block)
    {
        _isOpen = true;
        _isConditional = block.IsConditional;
        _table = block.Last('L');
        _place = block.Last('P');
    }

    private void GoOn(ProgramBlock block)
    {
        _isConditional |= block.IsConditional;
        // Inside tool lives and parameters an L is one of their own values.
        if (_table?.Whole is not (3 or 50 or 52)) _table = block.Last('L') ?? _table;
        _place = block.Last('P') ?? _place;
    }

    private void Enter(ProgramBlock block)
    {
        // A table that the program does not give may hold datums: every axis is told, and no value.
        if (_table is { Value: null }) EnterAxes(block, default, ProgramWriteTarget.Unknown, isKnown: false);
        switch (_table?.Whole)
        {
            case 2:
                EnterDatum(block, Common, 0, 9, isPosition: false);
                break;
            case 20 when machine.L20IsAdditional:
                EnterDatum(block, Register.Extended, 1, Register.ExtendedMost, isPosition: false);
                break;
            case 20:
                EnterDatum(block, Register.System, 1, 9, isPosition: true);
                break;
            case 10 or 11 when machine.IsLathe:
                EnterTurningTool(block, _table?.Whole == 11);
                break;
            case 10:
                EnterTool(block, ToolPart.Length);
                break;
            case 11:
                EnterTool(block, ToolPart.LengthWear);
                break;
            case 12:
                EnterTool(block, ToolPart.Diameter);
                break;
            case 13:
                EnterTool(block, ToolPart.DiameterWear);
                break;
        }
    }

    private static Register Common(int number) => number == 0 ? Register.Common : Register.System(number);

    private void EnterDatum(ProgramBlock block, Func<int, Register> register, int least, int most, bool isPosition)
    {
        if (Place(block, least, most) is not { } place) return;
        var target = place < 0 ? ProgramWriteTarget.Unknown : ProgramWriteTarget.Named;
        EnterAxes(block, place < 0 ? default : register(place), target, isKnown: !isPosition);
    }

    private void EnterAxes(ProgramBlock block, Register register, ProgramWriteTarget target, bool isKnown)
    {
        foreach (var word in block.Words)
        {
            if (!ProgramAxes.TryAxis(word.Letter, out var axis) && word.Letter != 'R') continue;
            // On a lathe U and W are increments of X and Z (contract section 3).
            var adds = machine.IsLathe && axis is Axis.U or Axis.W;
            if (adds) axis = axis == Axis.U ? Axis.X : Axis.Z;
            var value = axis == Axis.R ? modes.Angle(word) : modes.Coordinate(word, (int)axis);
            Add(block, OffsetKey.Datum(register, axis), isKnown ? value : null, adds, target);
        }
    }

    private void EnterTool(ProgramBlock block, ToolPart part)
    {
        if (Place(block, 0, OffsetKey.ToolMost) is not { } place || block.Last('R') is not { } word) return;
        var value = modes.Length(word);
        // L12 and L13 hold a radius on such a machine; a tool offset of ours is a diameter.
        if (!machine.DOnDiameter && part is ToolPart.Diameter or ToolPart.DiameterWear) value *= 2;
        EnterToolPart(block, place, part, value, adds: false);
    }

    // X, Z, nose radius R and tip Q, each with its wear: L10 is geometry, L11 wear (common practice, no source).
    private void EnterTurningTool(ProgramBlock block, bool isWear)
    {
        if (Place(block, 0, OffsetKey.ToolMost) is not { } place) return;
        foreach (var word in block.Words)
        {
            ToolPart? part = word.Letter switch
            {
                'X' or 'U' => isWear ? ToolPart.XWear : ToolPart.X,
                'Z' or 'W' => isWear ? ToolPart.ZWear : ToolPart.Z,
                'R' => isWear ? ToolPart.NoseRadiusWear : ToolPart.NoseRadius,
                'Q' => ToolPart.Tip,
                _ => null,
            };
            if (part is not { } known) continue;
            var value = known == ToolPart.Tip ? word.Value : modes.Length(word);
            EnterToolPart(block, place, known, value, adds: word.Letter is 'U' or 'W');
        }
    }

    private void EnterToolPart(ProgramBlock block, int place, ToolPart part, decimal? value, bool adds)
    {
        var target = place < 0 ? ProgramWriteTarget.Unknown : ProgramWriteTarget.Named;
        Add(block, OffsetKey.OfTool(Math.Max(place, 0), part), value, adds, target);
    }

    private void Add(ProgramBlock block, OffsetKey key, decimal? value, bool adds, ProgramWriteTarget target)
    {
        var isTip = key is { IsTool: true, Part: ToolPart.Tip };
        adds |= modes.IsIncremental && machine.Dialect.G91Adds && !isTip;
        var isConditional = block.IsConditional || _isConditional;
        Entries.Add(new Entry(key, value, adds, target, isConditional, _place?.RestsOnParameters == true));
    }

    /// <summary>
    /// P as a number; -1 where the program does not give it; null, with a fault, where it names nothing.
    /// </summary>
    private int? Place(ProgramBlock block, int least, int most)
    {
        if (_place is not { } place)
        {
            faults.Add(block.Line, 1, "P is missing; it says which register or tool the block sets");
            return null;
        }
        if (place.Value is null) return -1;
        if (place.Whole is { } number && number >= least && number <= most) return number;
        faults.Add(block.Line, place.Column, $"P names no register or tool here; P{least} to P{most} do");
        return null;
    }

    /// <summary>An offset that the block sets.</summary>
    /// <param name="PlaceRests">P was worked out from parameters.</param>
    internal readonly record struct Entry(
        OffsetKey Key, decimal? Value, bool Adds, ProgramWriteTarget Target, bool IsConditional, bool PlaceRests);
}
