using System.Globalization;
using FluentValidation;
using SetupAudit.Datums;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Commands.Validation;

/// <summary>Patterns of Limits: one that nothing matches would be a limit that is never held.</summary>
internal static class LimitRules
{
    private static readonly string[] Registers =
    [
        "COMMON", "G92",
        .. Enumerable.Range(1, 9).Select(number => Register.System(number).ToString()),
        .. Enumerable.Range(1, Register.ExtendedMost).Select(number => Register.Extended(number).ToString()),
    ];

    private static readonly string[] Axes = Enum.GetNames<Axis>();

    private static readonly string[] Parts = [.. ToolPartName.All];

    public static void Check(ShopConfig shop, ValidationContext<ShopConfig> context)
    {
        var machines = shop.Machines.Select(machine => machine.Name).ToList();
        foreach (var limit in shop.Limits)
        {
            var path = string.Create(CultureInfo.InvariantCulture, $"Limits[{limit.Index}]");
            Expect(limit.Machine, machines, $"{path}.Machine", "machine here", context);
            if (limit.Register is { } register) Expect(register, Registers, $"{path}.Register", "register", context);
            Expect(limit.Axis, Axes, $"{path}.Axis", "axis", context);
            Expect(limit.Of, Parts, $"{path}.Of", "part of a tool", context);
            var matched = shop.Machines.Where(machine => Glob.Matches(limit.Machine, machine.Name)).ToList();
            if (limit.Tool is not null && IsOfTurning(limit.Of)
                && matched.Count > 0 && matched.TrueForAll(machine => !machine.IsLathe))
                context.AddFailure($"{path}.Of", $"\"{limit.Of}\" is of turning tools, and no lathe matches "
                    + $"\"{limit.Machine}\"; a mill's are length, length-wear, diameter, diameter-wear");
            if (limit.Tool is { } tool && !IsToolPattern(tool))
                context.AddFailure($"{path}.Tool",
                    $"\"{tool}\" is no tool number; use one, or a pattern such as 1? or *");
            if (limit is { Tool: not null, Unit: Unit.Degree })
                context.AddFailure($"{path}.Unit", "\"deg\" is for axes that turn; tools have lengths");
        }
    }

    private static void Expect(
        string pattern, IReadOnlyList<string> names, string path, string what, ValidationContext<ShopConfig> context)
    {
        if (names.Any(name => Glob.Matches(pattern, name))) return;
        var near = NearestWord.Of(pattern, names);
        context.AddFailure(path, $"\"{pattern}\" matches no {what}" + (near is null ? "" : $"; did you mean {near}?"));
    }

    // Where a turning tool stands: no source of a mill ever shows these.
    private static bool IsOfTurning(string of) => Parts.Where(part => Glob.Matches(of, part)).ToList() is
    { Count: > 0 } matched && matched.TrueForAll(part => part is "x" or "x-wear" or "z" or "z-wear");

    private static bool IsToolPattern(string tool) =>
        tool.All(letter => char.IsAsciiDigit(letter) || letter is '*' or '?')
        && (tool.AsSpan().ContainsAny('*', '?')
            || (int.TryParse(tool, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
                && number <= OffsetKey.ToolMost));
}
