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
    // How likely the sources show what they show under the less fitting manners. Not smaller: a shop's routines may
    // print what was typed, and a touch told without its value may have been typed over.
    private const double ToldThoughTyped = 0.15;
    private const double NotToldThoughTouched = 0.2;
    private const double OverWrittenByTouch = 0.1;

    public SetupCase Case => setupCase;

    public MachineConfig Machine => setupCase.Machine;

    public Setup Setup => setupCase.Setup;

    public OffsetTable Table => setupCase.Setup.After;

    public bool IsInch => Machine.Units == Unit.Inch;

    public double Step { get; } = (double)setupCase.Machine.Resolution;

    /// <summary>The unit's short name, for sentences.</summary>
    public string UnitName { get; } = Length.ShortName(setupCase.Machine.Units);

    public Usual? Usual(OffsetKey key) => plausibility.Of(key);

    /// <summary>The usual value as a double; NaN where none is known.</summary>
    public double Expected(OffsetKey key) => Usual(key) is { } usual ? (double)usual.Location : double.NaN;

    /// <summary>A length in mm as the machine's unit has it.</summary>
    public double FromMm(double mm) => IsInch ? mm / 25.4 : mm;

    /// <summary>
    /// The plausible value that an offset had in this setup before the one that stands: what was touched, and then
    /// written over. Null where none was seen.
    /// </summary>
    public double? Intended(OffsetKey key)
    {
        var values = Setup.Changes.Where(change => change.Key == key && !change.IsFirstSight)
            .Select(change => change.After).OfType<decimal>().ToList();
        for (var i = values.Count - 2; i >= 0; i--)
            if (!plausibility.IsImplausible(key, values[i])) return (double)values[i];
        return null;
    }

    /// <summary>How likely the sources show of an offset what they show, had a mistake of that manner been
    /// made.</summary>
    public double Shown(OffsetKey key, Manner manner)
    {
        var last = Setup.Changes.LastOrDefault(change => change.Key == key && !change.IsFirstSight);
        if (last is null) return 1;
        var told = last.Touched || last.By == ChangedBy.Measured;
        if (told) return manner == Manner.AtTheTouch ? 1 : ToldThoughTyped;
        if (manner is Manner.Typed or Manner.Afterwards) return 1;
        if (Intended(key) is not null) return OverWrittenByTouch;
        return manner == Manner.AtTheTouch && Setup.Touches.Any(touch => Beside(touch.Key, key)) ? NotToldThoughTouched
            : 1;
    }

    /// <summary>The stock's extent along an axis in the machine's unit; null where no sheet gives it.</summary>
    public double? Stock(OffsetKey key)
    {
        var sheet = plausibility.ProgramOf(key)?.Sheet;
        var extent = key.Axis switch
        {
            Axis.X => sheet?.StockX,
            Axis.Y => sheet?.StockY,
            Axis.Z => sheet?.StockZ,
            _ => null,
        };
        return extent is { } known && sheet is not null ? (double)sheet.InUnit(known, Machine.Units) : null;
    }

    /// <summary>A number as a person reads it, without needless zeros.</summary>
    public static string Number(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    private static bool Beside(OffsetKey told, OffsetKey key) =>
        told != key && told.IsTool == key.IsTool && (key.IsTool || told.Register == key.Register);
}
