using System.Globalization;
using System.Text;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>Short ways to read a dump that stands in a test.</summary>
public static class Dumps
{
    public static MachineConfig Mill { get; } = new() { Name = "mill-3", Kind = MachineKind.Mill, Units = Unit.Millimetre };

    public static MachineConfig InchMill { get; } = Mill with { Units = Unit.Inch, Resolution = 0.0001m };

    public static MachineConfig Lathe { get; } = Mill with { Name = "lathe-1", Kind = MachineKind.Lathe, XOnDiameter = true };

    public static WatchConfig Watch(SourceKind kind) =>
        new() { Index = 0, Folder = "shares/mill-3", FullFolder = "shares/mill-3", Files = "*", Read = kind };

    public static DumpResult Read(SourceKind kind, byte[] bytes, MachineConfig? machine = null) =>
        DumpReader.Read(bytes, machine ?? Mill, Watch(kind));

    public static DumpResult DataSetting(string text, MachineConfig? machine = null) =>
        Read(SourceKind.DataSetting, Encoding.UTF8.GetBytes(text), machine);

    public static DumpResult Parameters(string text, MachineConfig? machine = null) =>
        Read(SourceKind.Parameters, Encoding.UTF8.GetBytes(text), machine);

    public static DumpResult Table(string text, MachineConfig? machine = null) =>
        Read(SourceKind.Table, Encoding.UTF8.GetBytes(text), machine);

    /// <summary>The readings as "G54.X=-310.2", with how they are meant where they do not simply stand.</summary>
    public static string Said(DumpResult result) => string.Join(' ', result.Offsets.Select(Said));

    private static string Said(OffsetReading reading) => string.Create(CultureInfo.InvariantCulture,
        $"{reading.Key.ToString().Replace(" ", "")}={reading.Value}{(reading.How == ReadingHow.Stands ? "" : $":{reading.How}")}");
}
