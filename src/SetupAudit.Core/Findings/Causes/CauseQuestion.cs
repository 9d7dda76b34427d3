using System.Globalization;
using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Causes;

/// <summary>What a cause may look at: the setup, what its offsets usually are, and the lengths a mistake can be made
/// of.</summary>
internal sealed class CauseQuestion(SetupCase setupCase, Plausibility plausibility)
{
    public SetupCase Case => setupCase;

    public MachineConfig Machine => setupCase.Machine;

    public Setup Setup => setupCase.Setup;

    public OffsetTable Table => setupCase.Setup.After;

    public SetupSheet? Sheet => plausibility.Program?.Sheet;

    public bool IsInch => Machine.Units == Unit.Inch;

    /// <summary>The unit's short name, for sentences.</summary>
    public string UnitName { get; } = Length.ShortName(setupCase.Machine.Units);

    public Usual? Usual(OffsetKey key) => plausibility.Of(key);

    /// <summary>The usual value as a double; NaN where none is known.</summary>
    public double Expected(OffsetKey key) => Usual(key) is { } usual ? (double)usual.Location : double.NaN;

    /// <summary>A length in mm as the machine's unit has it.</summary>
    public double FromMm(double mm) => IsInch ? mm / 25.4 : mm;

    /// <summary>The stock's extent along an axis in the machine's unit; null where no sheet gives it.</summary>
    public double? Stock(Axis axis)
    {
        var extent = axis switch
        {
            Axis.X => Sheet?.StockX,
            Axis.Y => Sheet?.StockY,
            Axis.Z => Sheet?.StockZ,
            _ => null,
        };
        return extent is { } known && Sheet is { } sheet ? (double)sheet.InUnit(known, Machine.Units) : null;
    }

    /// <summary>A number as a person reads it, without needless zeros.</summary>
    public static string Number(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);
}
