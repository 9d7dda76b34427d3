using System.Security.Cryptography;
using SetupAudit.Readings;
using SetupAudit.Shapes;
using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>Reads one file as its Watch entry says.</summary>
internal sealed class TryReading(ShopConfig shop, MachineConfig machine, WatchConfig watch, string path)
{
    private const int BytesMost = 64 << 20;
    private readonly ShopClock _clock = new(shop);

    public async Task<Tried> ReadAsync(CancellationToken token)
    {
        var modified = new DateTimeOffset(File.GetLastWriteTimeUtc(path), TimeSpan.Zero);
        if (watch.Read == SourceKind.Program) return await ProgramAsync(modified, token);
        if (new FileInfo(path).Length > BytesMost)
            throw new CommandException($"{path} is larger than 64 MB; only a program may be.");
        var bytes = await File.ReadAllBytesAsync(path, token);
        var moment = new MomentFinder(watch, machine, _clock).Find(Name, bytes, modified);
        return watch.Read switch
        {
            SourceKind.PrintOut => PrintOut(bytes, moment),
            SourceKind.Sheet => Sheet(bytes, moment),
            SourceKind.DataSetting or SourceKind.Parameters or SourceKind.Table => Dump(bytes, moment),
            SourceKind.Mtconnect => Streams(bytes, moment),
            _ => throw new InvalidOperationException($"{watch.Read} is no way to read a file"),
        };
    }

    private string Name => Path.GetFileName(path);

    private Tried Dump(byte[] bytes, Moment moment)
    {
        var result = DumpReader.Read(bytes, machine, watch);
        return Of(moment) with
        {
            Lines =
            [
                .. result.Offsets.Select(reading => TriedLine.Of(reading, machine.Units)),
                .. result.Measured.Select(TriedLine.Of),
            ],
            Faults = result.Faults,
        };
    }

    private Tried PrintOut(byte[] bytes, Moment moment)
    {
        if (watch.Lines is not { } name || !shop.PrintOuts.TryGetValue(name, out var printOut))
            throw new CommandException($"The watched folder {watch.Folder} names no PrintOuts to read lines by.");
        var result = new PrintOutReader(printOut, machine, _clock).Read(bytes, 1);
        return Of(moment) with { Lines = [.. result.Readings.Select(TriedLine.Of)], Faults = result.Faults };
    }

    private Tried Streams(byte[] bytes, Moment moment)
    {
        var document = StreamsReader.Read(bytes, machine, watch);
        return Of(moment) with
        {
            Lines = [.. document.Moments.SelectMany(one => TriedStream.Of(one, machine.Units))],
            Faults = document.Faults,
        };
    }

    private Tried Sheet(byte[] bytes, Moment moment)
    {
        var sha256 = Convert.ToHexStringLower(SHA256.HashData(bytes));
        var result = SetupSheetReader.Read(bytes, Name, sha256, moment.AtUtc);
        return Of(moment) with { Lines = [.. result.Readings.SelectMany(TriedLine.Of)], Faults = result.Faults };
    }

    private async Task<Tried> ProgramAsync(DateTimeOffset modified, CancellationToken token)
    {
        using var reader = new ProgramReader(machine, Name, modified);
        var head = new byte[MomentFinder.TextMostBytes];
        await using var file = File.OpenRead(path);
        var read = await file.ReadAtLeastAsync(head, head.Length, throwOnEndOfStream: false, token);
        var moment = new MomentFinder(watch, machine, _clock).Find(Name, head.AsSpan(0, read), modified);
        reader.Feed(head.AsSpan(0, read));
        var piece = new byte[1 << 20];
        for (int more; (more = await file.ReadAsync(piece, token)) > 0;) reader.Feed(piece.AsSpan(0, more));
        var text = reader.Finish();
        // Alone on its shelf: what it calls is not looked for, and is told as missing.
        var shelf = new ProgramShelf();
        shelf.Add(text);
        var scope = shelf.Scope(text.Program, modified);
        return Of(moment) with
        {
            Lines =
            [
                .. scope?.Registers.Select(TriedLine.Of) ?? [], .. scope?.Tools.Select(TriedLine.Of) ?? [],
                .. scope?.Writes.Select(write => TriedLine.Of(write, machine.Units)) ?? [],
                .. scope?.Probing.Select(TriedLine.Of) ?? [],
            ],
            Faults = text.Faults,
            Program = scope is null ? null : ProgramView.Of(machine.Name, text, scope),
        };
    }

    private Tried Of(Moment moment) => new()
    {
        File = path,
        Machine = machine.Name,
        Watch = watch,
        Moment = moment,
        Lines = [],
        Faults = [],
    };
}
