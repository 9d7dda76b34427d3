using SetupAudit.Datums;
using SetupAudit.Units;

namespace SetupAudit.Shop.Configuration;

/// <summary>One machine: what its numbers mean, and where its files are.</summary>
internal static class MachineSection
{
    private const decimal LeastMillimetre = 0.001m;
    private const decimal LeastInch = 0.0001m;

    private static readonly TypedShape<MachineKind> Kind =
        Values.Words(("mill", MachineKind.Mill), ("lathe", MachineKind.Lathe));

    private static readonly TypedShape<bool> OnDiameter = Values.Words(("diameter", true), ("radius", false));
    private static readonly TypedShape<bool> WithoutPoint = Values.Words(("increments", true), ("units", false));
    private static readonly TypedShape<bool> ZFrom = Values.Words(("register", false), ("tool-lengths", true));
    private static readonly TypedShape<bool> L20 = Values.Words(("additional", true), ("position", false));
    private static readonly TypedShape<int> ToolNumber = Values.Whole(1, OffsetKey.ToolMost);
    private static readonly ListShape Lengths = new("a list of numbers above 0", Values.NumberAbove0);

    private static readonly ObjectShape Probing = new("an object with Standoff and Search",
    [
        new("Standoff", Values.NumberAbove0),
        new("Search", Values.NumberAbove0),
    ]);

    public static ObjectShape Shape { get; } = new("an object with Kind and Units",
    [
        new("Like", Values.TextAs("the name of another machine")),
        new("Kind", Kind) { IsRequired = true },
        new("XOn", OnDiameter),
        new("Units", Values.LengthUnit) { IsRequired = true },
        new("Resolution", Values.NumberAbove0, "0.001 for mm, 0.0001 for inch"),
        new("WithoutPoint", WithoutPoint, "increments"),
        new("Travel", new MapShape("an object from axes to ranges", Values.Range, Values.MovingAxisNames)),
        new("ZFrom", ZFrom, "register"),
        new("DOn", OnDiameter, "diameter"),
        new("StylusDiameter", Values.NumberAbove0),
        new("ProbeTool", ToolNumber),
        new("Risers", Lengths),
        new("Gauges", Lengths),
        new("EdgeFinders", Lengths),
        new("Probing", Probing),
        new("L20", L20, "additional"),
        new("TimeZone", Values.TimeZone, "Shop's"),
        new("ClockOffset", Values.SignedSpan, "00:00:00"),
        new("Names", new MapShape("an object from the shop's names to registers", Values.Register)),
        new("Watch", new ListShape("a list of watched folders", WatchSection.Shape)),
        new("Parameters", new ListShape("a list of parameter entries", ParameterSection.Shape)),
        new("ProbingCalls", new ListShape("a list of probing calls", ProbingCallSection.Shape)),
        new("Dialect", DialectSection.Shape),
    ], CheckTogether);

    public static MachineConfig Read(string name, ConfigNode node, Folders folders, WatchTiming timing)
    {
        var kind = Kind.Read(node["Kind"], MachineKind.Mill);
        var units = Values.LengthUnit.Read(node["Units"], Unit.Millimetre);
        return new MachineConfig
        {
            Name = name,
            Kind = kind,
            XOnDiameter = kind == MachineKind.Lathe ? OnDiameter.OrNull(node["XOn"]) : null,
            Units = units,
            Resolution = Values.NumberAbove0.Read(node["Resolution"], units == Unit.Inch ? LeastInch : LeastMillimetre),
            WithoutPointIsIncrements = WithoutPoint.Read(node["WithoutPoint"], true),
            Travel = Values.ByAxis(Values.Range, node["Travel"]),
            ZFromToolLengths = ZFrom.Read(node["ZFrom"], false),
            DOnDiameter = OnDiameter.Read(node["DOn"], true),
            StylusDiameter = Values.NumberAbove0.OrNull(node["StylusDiameter"]),
            ProbeTool = ToolNumber.OrNull(node["ProbeTool"]),
            Risers = Values.NumberAbove0.Each(node["Risers"]),
            Gauges = Values.NumberAbove0.Each(node["Gauges"]),
            EdgeFinders = Values.NumberAbove0.Each(node["EdgeFinders"]),
            Standoff = Values.NumberAbove0.OrNull(node["Probing"]?["Standoff"]),
            Search = Values.NumberAbove0.OrNull(node["Probing"]?["Search"]),
            L20IsAdditional = L20.Read(node["L20"], true),
            TimeZone = Values.Text.TextOrNull(node["TimeZone"]),
            ClockOffset = Values.SignedSpan.Read(node["ClockOffset"], TimeSpan.Zero),
            Names = ReadNames(node["Names"]),
            Watch = ReadWatch(node["Watch"], folders, timing),
            Parameters = [.. Items(node["Parameters"]).Select(ParameterSection.Read).OfType<ParameterMap>()],
            ProbingCalls = [.. Items(node["ProbingCalls"]).Select(ProbingCallSection.Read).OfType<ProbingCall>()],
            Dialect = DialectSection.Read(node["Dialect"]),
        };
    }

    private static IReadOnlyList<ConfigNode> Items(ConfigNode? list) => list?.Items ?? [];

    // The index counts entries that could not be read as well: it is the place in the file.
    private static List<WatchConfig> ReadWatch(ConfigNode? node, Folders folders, WatchTiming timing)
    {
        var items = Items(node);
        var watch = new List<WatchConfig>();
        for (var index = 0; index < items.Count; index++)
            if (WatchSection.Read(items[index], index, folders, timing) is { } entry) watch.Add(entry);
        return watch;
    }

    private static Dictionary<string, Register> ReadNames(ConfigNode? node)
    {
        var names = new Dictionary<string, Register>(StringComparer.OrdinalIgnoreCase);
        foreach (var member in node?.Members ?? [])
            if (Values.Register.TryRead(member.Value, out var register)) names[member.Name] = register;
        return names;
    }

    private static void CheckTogether(ConfigNode node, ConfigCheck check)
    {
        if (!Kind.TryRead(node["Kind"], out var kind)) return;
        if (kind == MachineKind.Lathe && node["XOn"] is null) check.Missing(node, "XOn", OnDiameter.Allowed);
        // A mill may be like a lathe; the XOn it takes along says nothing then.
        if (kind == MachineKind.Mill && node.MemberOf("XOn") is { } x && ConfigPath.Parent(x.Value.Path) == node.Path)
            check.Add(x.Value.Path, x.Place, "is only for a lathe");
    }
}
