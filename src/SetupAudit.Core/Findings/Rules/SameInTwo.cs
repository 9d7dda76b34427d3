using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>Two registers hold the same values, not all zero, in every axis, and this setup set one of them.</summary>
internal sealed class SameInTwo : IRule
{
    public string Name => "same-in-two";

    public Severity Default => Severity.Low;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        if (setupCase.JudgedAt() is null) return [];
        var set = SetMarks.Of(setupCase).Where(mark => mark.Key.IsDatum).Select(mark => mark.Key.Register).ToHashSet();
        return setupCase.Setup.After.Registers.Where(register => register.HoldsDatum())
            .Select(register => (Register: register, Values: Values(setupCase, register)))
            .Where(held => held.Values.Count > 1 && held.Values.Any(axis => axis.Value != 0m))
            .GroupBy(held => string.Join(' ', held.Values.Select(axis => $"{axis.Axis}{Plain(axis.Value)}")))
            .Select(same => same.Select(held => held.Register).ToList())
            .Where(same => same.Count > 1 && same.Exists(set.Contains))
            .Select(same => Found(setupCase, same));
    }

    private Finding Found(SetupCase setupCase, List<Register> registers)
    {
        var values = Values(setupCase, registers[0]);
        var states = registers.SelectMany(register => values.Select(axis => OffsetKey.Datum(register, axis.Axis)))
            .Select(key => setupCase.Setup.After[key]).OfType<OffsetState>().ToList();
        var numbers = values.Select(axis => $"{Words.Axis(axis.Axis)} "
            + Words.With(axis.Value, OffsetKey.Datum(registers[0], axis.Axis).UnitOn(setupCase.Machine.Units)));
        var names = Words.List(registers.Select(register => register.ToString()));
        var message = $"{names} hold the same values in every axis: {Words.List(numbers)}.";
        return setupCase.Raise(this, Severity.Low, string.Join('+', registers), message,
            states.Max(setupCase.HeldFrom), states.Select(state => state.Source)) with
        {
            Register = registers[0],
        };
    }

    /// <summary>Every axis that the register shows; none where one of them holds no value.</summary>
    private static List<(Axis Axis, decimal Value)> Values(SetupCase setupCase, Register register)
    {
        var keys = setupCase.Setup.After.Keys(register).ToList();
        return keys.Exists(key => setupCase.Setup.After.Value(key) is null)
            ? []
            : [.. keys.Select(key => (key.Axis, setupCase.Setup.After.Value(key).GetValueOrDefault()))];
    }

    // -310.2 and -310.200 are the same value.
    private static string Plain(decimal value) => Words.Number(value / 1.0000000000000000000000000000m);
}
