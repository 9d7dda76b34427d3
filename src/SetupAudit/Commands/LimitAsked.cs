using System.Globalization;
using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>The offsets that <c>check --limit</c> asks for: mill-3/G54.Z, mill-3/T5.length-wear.</summary>
/// <param name="Keys">One offset; or every axis of a register, or part of a tool.</param>
internal sealed record LimitAsked(MachineConfig Machine, IReadOnlyList<OffsetKey> Keys)
{
    private const string Allowed = "allowed are a machine and an offset, such as mill-3/G54.Z, mill-3/G54, "
        + "mill-3/T5.length-wear or mill-3/T5";

    public static LimitAsked Parse(ShopConfig shop, string text)
    {
        var slash = text.IndexOf('/', StringComparison.Ordinal);
        if (slash < 0) throw new CommandException($"--limit: '{text}' names no offset; {Allowed}.");
        var machine = shop.Machine(text[..slash]) ?? throw new CommandException(
            $"--limit: the configuration has no machine {text[..slash]}; "
            + $"it has {string.Join(", ", shop.Machines.Select(machine => machine.Name))}.");
        var keys = Named(machine, text[(slash + 1)..].Trim());
        return keys.Count > 0
            ? new LimitAsked(machine, keys)
            : throw new CommandException($"--limit: '{text[(slash + 1)..]}' is no offset; {Allowed}.");
    }

    private static IReadOnlyList<OffsetKey> Named(MachineConfig machine, string what)
    {
        if (what.Length == 0) return [];
        // A whole name first: the number behind the point of G59.1 is no axis.
        if (Register(machine, what) is { } whole)
            return [.. Enum.GetValues<Axis>().Select(axis => OffsetKey.Datum(whole, axis))];
        if (Tool(what) is { } every)
            return [.. Enum.GetValues<ToolPart>().Select(part => OffsetKey.OfTool(every, part))];
        var dot = what.LastIndexOf('.');
        if (dot < 0) return [];
        var (name, rest) = (what[..dot], what[(dot + 1)..]);
        if (Tool(name) is { } tool)
            return ToolPartName.TryParse(rest, out var part) ? [OffsetKey.OfTool(tool, part)] : [];
        return Register(machine, name) is { } register && rest.Length == 1 && char.IsAsciiLetter(rest[0])
            && Enum.TryParse<Axis>(rest, ignoreCase: true, out var one)
            ? [OffsetKey.Datum(register, one)]
            : [];
    }

    private static Register? Register(MachineConfig machine, string name) =>
        machine.TryParseRegister(name, out var register) ? register : null;

    private static int? Tool(string name) => name.Length > 1 && name[0] is 'T' or 't'
        && int.TryParse(name.AsSpan(1), NumberStyles.None, CultureInfo.InvariantCulture, out var tool)
        && tool <= OffsetKey.ToolMost
        ? tool
        : null;
}
