using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>
/// What the keys of entries and cells name. The standard has no list of them: its examples name a register by its
/// word and an axis by its letter; whatever else a shop's agent writes is mapped by the configuration.
/// </summary>
internal sealed class StreamKeys
{
    private static readonly Dictionary<string, ToolPart> Parts = new(StringComparer.OrdinalIgnoreCase)
    {
        ["Length"] = ToolPart.Length,
        ["LengthWear"] = ToolPart.LengthWear,
        ["Diameter"] = ToolPart.Diameter,
        ["DiameterWear"] = ToolPart.DiameterWear,
        // The standard's two subtypes of a tool offset are LENGTH and RADIAL.
        ["Radial"] = ToolPart.Diameter,
        ["RadialWear"] = ToolPart.DiameterWear,
        ["Radius"] = ToolPart.Diameter,
        ["RadiusWear"] = ToolPart.DiameterWear,
    };

    private static readonly Dictionary<string, ToolPart> LatheParts = new(StringComparer.OrdinalIgnoreCase)
    {
        ["X"] = ToolPart.X,
        ["XWear"] = ToolPart.XWear,
        ["Z"] = ToolPart.Z,
        ["ZWear"] = ToolPart.ZWear,
        ["NoseRadius"] = ToolPart.NoseRadius,
        ["NoseRadiusWear"] = ToolPart.NoseRadiusWear,
        ["Tip"] = ToolPart.Tip,
    };

    private readonly MachineConfig _machine;
    private readonly Dictionary<string, string> _ours = new(StringComparer.OrdinalIgnoreCase);
    private readonly HashSet<string> _mapped;

    public StreamKeys(MachineConfig machine, WatchConfig watch)
    {
        _machine = machine;
        _mapped = new HashSet<string>(watch.Columns.Keys, StringComparer.OrdinalIgnoreCase);
        foreach (var (ours, theirs) in watch.Columns) _ours[theirs] = ours;
    }

    public bool TryRegister(string? key, out Register register) => _machine.TryParseRegister(key, out register);

    /// <summary>An axis; any other cell of a register is none of ours.</summary>
    public Axis? Axis(string key)
    {
        var name = Ours(key);
        return name.Length == 1 && char.IsAsciiLetter(name[0])
            && Enum.TryParse<Axis>(name, ignoreCase: true, out var axis)
            ? axis
            : null;
    }

    /// <summary>A register and one of its axes in one word, such as G54.X or G54_X.</summary>
    public bool TryDatum(string? key, out OffsetKey datum)
    {
        datum = default;
        if (key is not [.., '.' or '_' or '-' or ':' or '/', var letter]
            || !TryRegister(key[..^2], out var register) || Axis(letter.ToString()) is not { } axis) return false;
        datum = OffsetKey.Datum(register, axis);
        return true;
    }

    /// <summary>The number of a tool, with or without its T.</summary>
    public static int? Tool(string key)
    {
        var digits = key.AsSpan();
        if (digits is ['T' or 't', ..]) digits = digits[1..];
        return int.TryParse(digits, System.Globalization.NumberStyles.None,
            System.Globalization.CultureInfo.InvariantCulture, out var tool) && tool <= OffsetKey.ToolMost
            ? tool
            : null;
    }

    /// <summary>The part of a tool that a cell holds, and how often its value goes into ours.</summary>
    public (ToolPart Part, int Times)? Part(string key)
    {
        var name = Ours(key).Replace("_", "", StringComparison.Ordinal).Replace("-", "", StringComparison.Ordinal);
        if (Parts.TryGetValue(name, out var part))
            return (part, name.StartsWith("Radi", StringComparison.OrdinalIgnoreCase) ? 2 : 1);
        return _machine.IsLathe && LatheParts.TryGetValue(name, out var ofLathe) ? (ofLathe, 1) : null;
    }

    // A name of ours that is mapped stands for what it is mapped to, and no longer for itself.
    private string Ours(string key) => _ours.TryGetValue(key, out var ours) ? ours
        : _mapped.Contains(key) ? ""
        : key;
}
