using FluentValidation;
using SetupAudit.Shop;

namespace SetupAudit.Commands.Validation;

/// <summary>Names of machines: they stand in ids, on command lines and in file names.</summary>
internal static class NameRules
{
    public static void Check(ShopConfig shop, ValidationContext<ShopConfig> context)
    {
        var seen = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase);
        foreach (var machine in shop.Machines)
        {
            var path = $"Machines.{machine.Name}";
            if (!IsName(machine.Name))
                context.AddFailure(path,
                    $"\"{machine.Name}\" is no name for a machine; use letters, digits, points, hyphens and "
                    + "underlines, a letter or digit first");
            else if (!seen.TryAdd(machine.Name, machine.Name))
                context.AddFailure(path, $"differs only in case from {seen[machine.Name]}; give it another name");
        }
    }

    private static bool IsName(string name) => name.Length > 0 && char.IsAsciiLetterOrDigit(name[0])
        && name.All(letter => char.IsAsciiLetterOrDigit(letter) || letter is '.' or '_' or '-');
}
