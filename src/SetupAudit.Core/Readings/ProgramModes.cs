using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>What is in force from block to block while a program is read, and what its numbers mean under it.</summary>
internal sealed class ProgramModes
{
    private const decimal RotaryIncrement = 0.001m;

    private readonly MachineConfig _machine;

    public ProgramModes(MachineConfig machine)
    {
        _machine = machine;
        TakeUnit(machine.Units);
        ScaledAngularIncrement = (long)(AngularIncrement * ProgramScale.PerUnit);
    }

    public ProgramMotion Motion { get; set; }

    /// <summary>G91. A program begins in G90 (RS274/NGC 3.6.1).</summary>
    public bool IsIncremental { get; set; }

    /// <summary>G99: a drilling cycle goes back to R, not to where it began.</summary>
    public bool ReturnsToR { get; set; }

    /// <summary>The unit in force: G20, G21, or the machine's.</summary>
    public Unit Unit { get; private set; }

    /// <summary>What a length without a point counts, in the unit in force.</summary>
    public decimal LinearIncrement { get; private set; }

    /// <summary>What an angle without a point counts: 0.001 degrees, common practice (no source).</summary>
    public decimal AngularIncrement => _machine.WithoutPointIsIncrements ? RotaryIncrement : 1;

    /// <summary>The same, by <see cref="ProgramScale"/>.</summary>
    public long ScaledLinearIncrement { get; private set; }

    public long ScaledAngularIncrement { get; }

    public bool IsMachineUnit => Unit == _machine.Units;

    public void TakeUnit(Unit unit)
    {
        Unit = unit;
        // Where the machine's least increment is 0.001 mm it is 0.0001 inch, and so on: common practice (no source).
        LinearIncrement = !_machine.WithoutPointIsIncrements ? 1
            : IsMachineUnit ? _machine.Resolution
            : unit == Unit.Inch ? _machine.Resolution / 10
            : _machine.Resolution * 10;
        ScaledLinearIncrement = (long)(LinearIncrement * ProgramScale.PerUnit);
    }

    /// <summary>A length as a word writes it, in the machine's unit; null where it is not known.</summary>
    public decimal? Length(ProgramWord word) => word.Value is not { } value ? null
        : Units.Length.Convert(word.CountsIncrements ? value * LinearIncrement : value, Unit, _machine.Units);

    /// <summary>An angle as a word writes it, in degrees; null where it is not known.</summary>
    public decimal? Angle(ProgramWord word) => word.CountsIncrements ? word.Value * AngularIncrement : word.Value;

    /// <summary>What a word of an axis writes, in the machine's unit or in degrees.</summary>
    public decimal? Coordinate(ProgramWord word, int axis) => ProgramAxes.IsLinear(axis) ? Length(word) : Angle(word);

    /// <summary>
    /// A length by <see cref="ProgramScale"/>, in the unit in force, turned into the machine's; as exactly as
    /// <see cref="Length"/> does it.
    /// </summary>
    public long ToMachine(long scaled) => Unit == Unit.Inch && scaled % 5 == 0
        ? scaled / 5 * 127
        : ProgramScale.Of(Units.Length.Convert(ProgramScale.Value(scaled), Unit, _machine.Units)) ?? 0;
}
