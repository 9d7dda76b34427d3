using System.Globalization;
using SetupAudit.Records;

namespace SetupAudit.Store.Stamps;

/// <summary>
/// The stamps of a record in a folder: SIZE.tsr, the authority's answer, beside SIZE.txt, the checkpoint over so many
/// entries that it is over, both as public tools read them.
/// </summary>
internal sealed class StampFolder(string path)
{
    /// <summary>The folder in that of a store.</summary>
    public const string Name = "stamps";

    /// <summary>The ending of an answer.</summary>
    public const string Ending = ".tsr";

    private const string NoteEnding = ".txt";
    private const string Unfinished = ".new";

    public string Path => path;

    public static StampFolder OfStore(string store) => new(System.IO.Path.Combine(store, Name));

    /// <summary>Off the computer several records may share a folder.</summary>
    public static StampFolder OffBox(string folder, string origin) =>
        new(System.IO.Path.Combine(folder, origin.Replace('/', '-') + "." + Name));

    /// <summary>The sizes that there are stamps of, the smallest first.</summary>
    public IReadOnlyList<long> Sizes() =>
        [.. Files().Select(file => SizeOf(file)).OfType<long>().Order()];

    /// <summary>Every answer that lies there, whatever it is called.</summary>
    public IReadOnlyList<string> Files() => !Directory.Exists(path)
        ? []
        : [.. Directory.EnumerateFiles(path, "*" + Ending).Order(StringComparer.Ordinal)];

    /// <summary>How many entries an answer is over by its name; null where it does not say so.</summary>
    public static long? SizeOf(string file) =>
        long.TryParse(System.IO.Path.GetFileNameWithoutExtension(file), NumberStyles.None,
            CultureInfo.InvariantCulture, out var size)
        && System.IO.Path.GetFileName(file) == Text(size) + Ending ? size : null;

    /// <summary>The bytes of an answer; those of a file that is too long are cut.</summary>
    public byte[] Answer(long size) => Read(size, Ending, StampReading.BytesMost);

    /// <summary>The checkpoint that an answer is over; null where it is not there.</summary>
    public byte[]? Note(long size) =>
        File.Exists(FileOf(size, NoteEnding)) ? Read(size, NoteEnding, SignedNote.BytesMost) : null;

    /// <summary>Keeps an answer, after the checkpoint that it is over: where it is, that is as well.</summary>
    public void Put(long size, byte[] note, byte[] answer)
    {
        Directory.CreateDirectory(path);
        Write(FileOf(size, NoteEnding), note);
        Write(FileOf(size, Ending), answer);
        if (!OperatingSystem.IsWindows()) Posix.FlushFolder(path);
    }

    /// <summary>Keeps in another folder what is here and not there yet, of these sizes or of all.</summary>
    public void CopyTo(StampFolder there, IReadOnlyList<long>? sizes = null)
    {
        foreach (var size in (sizes ?? Sizes()).Except(there.Sizes()))
            if (Note(size) is { } note) there.Put(size, note, Answer(size));
    }

    /// <summary>Takes the folder away.</summary>
    public void Delete()
    {
        if (Directory.Exists(path)) Directory.Delete(path, recursive: true);
    }

    public string FileOf(long size) => FileOf(size, Ending);

    /// <summary>The path of the checkpoint beside an answer.</summary>
    public string NoteOf(long size) => FileOf(size, NoteEnding);

    private string FileOf(long size, string ending) => System.IO.Path.Combine(path, Text(size) + ending);

    private static string Text(long size) => size.ToString(CultureInfo.InvariantCulture);

    private byte[] Read(long size, string ending, int most)
    {
        using var file = File.Open(FileOf(size, ending), FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        var bytes = new byte[Math.Min(file.Length, most + 1)];
        return bytes[..file.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false)];
    }

    private static void Write(string target, byte[] bytes)
    {
        using (var file = File.Create(target + Unfinished))
        {
            file.Write(bytes);
            file.Flush(flushToDisk: true);
        }
        File.Move(target + Unfinished, target, overwrite: true);
    }
}
