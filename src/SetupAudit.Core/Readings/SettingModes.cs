using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>What is in force from block to block while a data-setting dump is read.</summary>
internal struct SettingModes
{
    /// <summary>The letter was not given.</summary>
    public const int None = int.MinValue;

    /// <summary>The letter was given with a number that is no integer, or a far too large one.</summary>
    public const int NotWhole = int.MinValue + 1;

    private readonly MachineConfig _machine;
    private bool _unitDepends;
    private bool _incrementalDepends;
    private bool _entryDepends;
    private bool _inEntry;

    public SettingModes(MachineConfig machine)
    {
        _machine = machine;
        Unit = machine.Units;
        Increment = machine.Resolution;
    }

    /// <summary>The unit in force: G20, G21, or the machine's.</summary>
    public Unit Unit { get; private set; }

    /// <summary>What a number without a point counts, in the unit in force.</summary>
    public decimal Increment { get; private set; }

    public bool Incremental { get; private set; }

    /// <summary>L of the entry in force; <see cref="None"/> or <see cref="NotWhole"/> where it is no integer.</summary>
    public int Table { get; private set; }

    /// <summary>P of the entry in force; <see cref="None"/> or <see cref="NotWhole"/> where it is no integer.</summary>
    public int Place { get; private set; }

    /// <summary>Whether what the block sets depends on a block delete switch, here or at a mode set before.</summary>
    public readonly bool Depends(in WordBlock block) =>
        block.Conditional || _entryDepends || _unitDepends || (_incrementalDepends && _machine.Dialect.G91Adds);

    /// <summary>
    /// Takes the block's modes in force, units and distance before the data itself (the order of execution of
    /// RS274/NGC, table 8), and tells whether the block enters data.
    /// </summary>
    public bool Enter(in WordBlock block)
    {
        TakeUnit(block);
        TakeDistance(block);
        if (block.HasG11) EndEntry(block);
        if (block.EndsProgram) EndProgram(block);
        if (block.HasG10) BeginEntry(block);
        else if (!_inEntry || block.HasOtherGOrM || !(block.Has('L') || block.Has('P'))) return false;
        else GoOn(block);
        return true;
    }

    private void TakeUnit(in WordBlock block)
    {
        if (!block.HasInch && !block.HasMillimetre) return;
        var unit = block.HasInch ? Unit.Inch : Unit.Millimetre;
        _unitDepends = block.Conditional && (unit != Unit || _unitDepends);
        Unit = unit;
        // Where the machine's least increment is 0.001 mm it is 0.0001 inch, and so on: common practice, no source.
        Increment = unit == _machine.Units ? _machine.Resolution
            : unit == Unit.Inch ? _machine.Resolution / 10
            : _machine.Resolution * 10;
    }

    private void TakeDistance(in WordBlock block)
    {
        if (!block.HasAbsolute && !block.HasIncremental) return;
        _incrementalDepends = block.Conditional && (block.HasIncremental != Incremental || _incrementalDepends);
        Incremental = block.HasIncremental;
    }

    private void BeginEntry(in WordBlock block)
    {
        _inEntry = true;
        _entryDepends = block.Conditional;
        Table = Whole(block, 'L');
        Place = Whole(block, 'P');
    }

    private void GoOn(in WordBlock block)
    {
        _entryDepends |= block.Conditional;
        // Inside tool lives and parameters an L is one of their own values; those entries end with G11 or a new G10.
        if (block.Has('L') && !IsOtherEntry) Table = Whole(block, 'L');
        if (block.Has('P')) Place = Whole(block, 'P');
    }

    private void EndEntry(in WordBlock block)
    {
        _entryDepends = block.Conditional && _inEntry;
        _inEntry = _entryDepends;
    }

    // M2 and M30 set absolute distance (RS274/NGC 3.6.1); that they end a data entry is common practice, no source.
    private void EndProgram(in WordBlock block)
    {
        if (block.Conditional)
        {
            _entryDepends |= _inEntry;
            _incrementalDepends |= Incremental;
            return;
        }
        _inEntry = _entryDepends = _incrementalDepends = Incremental = false;
    }

    /// <summary>Tool lives (L3) and parameters (L50, L52) are entered with G10 too, and set no offset.</summary>
    public readonly bool IsOtherEntry => Table is 3 or 50 or 52;

    private static int Whole(in WordBlock block, char letter) =>
        !block.Has(letter) ? None : block.Number(letter).TryWhole(out var whole) ? whole : NotWhole;
}
