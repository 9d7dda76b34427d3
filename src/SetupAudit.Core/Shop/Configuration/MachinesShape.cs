namespace SetupAudit.Shop.Configuration;

/// <summary>
/// The key Machines. With Like a machine takes the keys of another that it does not give itself, so that what is
/// missing
/// can be told only once the keys are together.
/// </summary>
internal sealed class MachinesShape() : ConfigShape("an object from machine names to machines")
{
    public static ObjectShape Item => MachineSection.Shape;

    public override void Check(ConfigNode node, ConfigCheck check)
    {
        if (node.Kind != ConfigKind.Object) NotAllowed(node, check);
        else if (node.Members.Count == 0 && node.IsWhole) check.Add(node, "is empty; give at least one machine");
        foreach (var machine in node.Members)
        {
            Item.CheckEach(machine.Value, check);
            var whole = StartOf(machine);
            if (TakeFromOthers(machine, node, whole, check)) Item.CheckTogether(whole, check);
        }
    }

    /// <summary>Every machine with the keys it takes from others.</summary>
    public static IReadOnlyList<ConfigMember> Merge(ConfigNode? node)
    {
        var machines = new List<ConfigMember>();
        foreach (var machine in node?.Members ?? [])
        {
            var whole = StartOf(machine);
            if (node is not null) TakeFromOthers(machine, node, whole, check: null);
            machines.Add(machine with { Value = whole });
        }
        return machines;
    }

    private static ConfigNode StartOf(ConfigMember machine)
    {
        var whole = new ConfigNode(machine.Value.Path, machine.Value.Place, machine.Value.Kind)
        {
            IsWhole = machine.Value.IsWhole,
        };
        foreach (var member in machine.Value.Members) whole.Add(member);
        return whole;
    }

    /// <summary>
    /// Adds the keys of the machine it is like, of the one that one is like, and so on. False where the row breaks: the
    /// machine at whose Like it breaks gets the fault, and those behind it are not told over again.
    /// </summary>
    private static bool TakeFromOthers(ConfigMember machine, ConfigNode machines, ConfigNode whole, ConfigCheck? check)
    {
        var seen = new List<string> { machine.Name };
        var at = machine.Value;
        while (at["Like"] is { } like)
        {
            if (!Values.Text.TryRead(like, out var name)) return false;
            if (seen.Contains(name))
            {
                if (name == machine.Name) check?.Add(like, Circle(seen));
                return false;
            }
            if (machines[name] is not { } other)
            {
                if (at == machine.Value && machines.IsWhole) check?.Add(like, NoSuch(name, machine.Name, machines));
                return false;
            }
            seen.Add(name);
            whole.IsWhole &= other.IsWhole;
            foreach (var member in other.Members)
                if (whole.MemberOf(member.Name) is null) whole.Add(member);
            at = other;
        }
        return true;
    }

    private static string Circle(List<string> seen) => seen.Count == 1
        ? "names the machine itself; name another"
        : $"goes round in a circle: {string.Join(" -> ", seen.Append(seen[0]))}";

    private static string NoSuch(string name, string own, ConfigNode machines)
    {
        var names = machines.Members.Select(member => member.Name).Where(other => other != own).ToList();
        if (names.Count == 0) return $"{Wording.Quote(name)} is no machine here, and there is no other";
        return NearestWord.Of(name, names) is { } near
            ? $"{Wording.Quote(name)} is no machine here; did you mean {near}?"
            : $"{Wording.Quote(name)} is no machine here; use {Wording.Or(names)}";
    }
}
