using System.Globalization;
using SetupAudit.Evidence;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>Reads a dump, in which a control wrote out its offsets, by the way its Watch entry names.</summary>
public static class DumpReader
{
    /// <summary>What the bytes say. Whatever they are, it answers in time linear to them, and does not throw.</summary>
    public static DumpResult Read(ReadOnlySpan<byte> bytes, MachineConfig machine, WatchConfig watch)
    {
        if (bytes.IsEmpty) return Unreadable("the file is empty");
        var text = PlainText.Of(bytes);
        if (text.Bytes.IsEmpty && bytes[^1] == 0)
            return Unreadable(string.Create(
                CultureInfo.InvariantCulture, $"all {bytes.Length} bytes of the file are NUL"));
        return watch.Read switch
        {
            SourceKind.DataSetting => DataSettingReader.Read(text, machine),
            SourceKind.Parameters => ParameterReader.Read(text, machine),
            SourceKind.Table => TableReader.Read(text, machine, watch),
            _ => throw new ArgumentException($"{watch.Read} is no dump", nameof(watch)),
        };
    }

    private static DumpResult Unreadable(string reason) => new([], [], [new Fault(0, 0, reason)]);
}
