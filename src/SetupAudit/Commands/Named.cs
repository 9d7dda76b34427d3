using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>Finds what an option names, or says what there is.</summary>
internal static class Named
{
    /// <summary>The machine of that name; null for no name.</summary>
    public static MachineConfig? Machine(ShopConfig shop, string? name) => name is null
        ? null
        : shop.Machine(name) ?? throw new CommandException(
            $"--machine: the configuration has no machine {name}; "
            + $"it has {string.Join(", ", shop.Machines.Select(machine => machine.Name))}.");
}
