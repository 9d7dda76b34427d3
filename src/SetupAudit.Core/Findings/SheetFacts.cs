using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>What the setup sheets of a case ask for.</summary>
internal static class SheetFacts
{
    /// <summary>The sheet as evidence; it is one document, so its first line stands for it.</summary>
    public static SourceLine Line(this SetupSheet sheet) => new(sheet.File, sheet.Sha256, 1);

    /// <summary>The sheets of the setup's programs, each program's once.</summary>
    public static IEnumerable<(ProgramUse Use, SetupSheet Sheet)> Sheets(this SetupCase setupCase) =>
        setupCase.Programs.Where(use => use.Sheet is not null).DistinctBy(use => use.Program)
            .Select(use => (use, use.Sheet ?? throw new InvalidOperationException("a sheet was just seen")));

    /// <summary>Whether a sheet gives any axis of the register as fixed.</summary>
    public static bool IsFixed(this SetupCase setupCase, Register register) => setupCase.Sheets().Any(item =>
        item.Sheet.Datums.Any(datum => datum.Register == register && datum.Fixed.Count > 0));

    /// <summary>The value a sheet gives a fixed datum, in the machine's unit (degrees for rotary axes).</summary>
    public static decimal FixedValue(this SetupSheet sheet, OffsetKey key, decimal value, MachineConfig machine) =>
        key.IsLinear ? sheet.InUnit(value, machine.Units) : value;

    /// <summary>A sheet's range of a datum, in the machine's unit (degrees for rotary axes).</summary>
    public static Bounds Range(this SetupSheet sheet, OffsetKey key, Bounds range, MachineConfig machine) =>
        key.IsLinear || key.IsTool ? sheet.InUnit(range, machine.Units) : range;
}
