using System.Globalization;
using SetupAudit.Evidence;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>Reads a dump, in which a control wrote out its offsets, by the way its Watch entry names.</summary>
public static class DumpReader
{
    /// <summary>Far more offsets than any control holds; a file that goes on saying more is not believed.</summary>
    internal const int ReadingsMost = 200_000;

    internal const string TooMany = "the file has said 200000 values, more than any control holds; reading stops here";

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
