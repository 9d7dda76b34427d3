using SetupAudit.Evidence;
using SetupAudit.Shop;
using SetupAudit.Shop.Configuration;

namespace SetupAudit.Readings;

/// <summary>Reads a setup sheet (contract section 4). What could be read counts beside its faults.</summary>
public static class SetupSheetReader
{
    /// <summary>A sheet is some kilobytes; what is larger is another file.</summary>
    public const int SizeMostBytes = 1024 * 1024;

    /// <summary>The one sheet, or none where it cannot be known what its numbers mean. Does not throw.</summary>
    /// <param name="file">As it was found: its name is the program's where the sheet does not say.</param>
    public static ReadResult<SetupSheet> Read(
        ReadOnlySpan<byte> utf8Json, string file, string sha256, DateTimeOffset modifiedUtc)
    {
        if (utf8Json.Length > SizeMostBytes)
            return new([], [new Fault(0, 0, "the file is larger than 1 MB; this is no setup sheet")]);
        var check = new ConfigCheck();
        var root = ConfigTree.Read(utf8Json, check);
        if (root is not null) SheetSection.Shape.Check(root, check);
        var sheet = root is null ? null : Build(root, file, sha256, modifiedUtc);
        return new ReadResult<SetupSheet>(sheet is null ? [] : [sheet], [.. check.Faults.Select(AsFault)]);
    }

    private static SetupSheet? Build(ConfigNode root, string file, string sha256, DateTimeOffset modifiedUtc) =>
        SheetSection.Units(root) is not { } units ? null : new SetupSheet
        {
            Program = SheetSection.Program(root) is { } name
                ? ProgramName.Normalise(name)
                : ProgramName.OfFile(file),
            Part = SheetSection.Part(root),
            Units = units,
            StockX = SheetSection.Stock(root, "X"),
            StockY = SheetSection.Stock(root, "Y"),
            StockZ = SheetSection.Stock(root, "Z"),
            Datums = SheetSection.Datums(root),
            Tools = SheetSection.Tools(root),
            Measured = SheetSection.Measured(root),
            File = file,
            Sha256 = sha256,
            ModifiedUtc = modifiedUtc,
        };

    private static Fault AsFault(ConfigFault fault) => new(
        fault.Line, fault.Column, fault.Path.Length == 0 ? fault.Message : $"{fault.Path}: {fault.Message}");
}
