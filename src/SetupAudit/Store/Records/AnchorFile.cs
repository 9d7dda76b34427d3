using System.Text;
using SetupAudit.Records;

namespace SetupAudit.Store.Records;

/// <summary>
/// A file that checkpoints are appended to, apart from the database: each a signed note, an empty line between two. It
/// may lag behind the record, never run ahead of it.
/// </summary>
internal sealed class AnchorFile(string path)
{
    /// <summary>The file in the store's folder.</summary>
    public const string FileName = "checkpoints.txt";

    private const int TailBytes = 2 * SignedNote.BytesMost;

    // A first note that was cut short has no more than this.
    private const int LongestFirst = 1024;

    public string Path => path;

    /// <summary>The last whole note of the file; null where there is none.</summary>
    public SignedNote? Last()
    {
        if (!File.Exists(path)) return null;
        using var file = File.Open(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        file.Seek(-Math.Min(file.Length, TailBytes), SeekOrigin.End);
        using var text = new StreamReader(file, Encoding.UTF8);
        return Notes(text).LastOrDefault(note => note is not null);
    }

    /// <summary>
    /// Appends a note and flushes it to disk. What a crash left of an unfinished note is taken away first.
    /// </summary>
    public void Append(SignedNote note)
    {
        var isNew = !File.Exists(path);
        using (var file = File.Open(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.Read))
        {
            var whole = WholeLength(file);
            if (whole < file.Length) file.SetLength(whole);
            file.Seek(whole, SeekOrigin.Begin);
            file.Write(Encoding.UTF8.GetBytes(note + "\n"));
            file.Flush(flushToDisk: true);
        }
        var folder = System.IO.Path.GetDirectoryName(path);
        if (isNew && folder is not null && !OperatingSystem.IsWindows()) Posix.FlushFolder(folder);
    }

    /// <summary>
    /// The notes of a text, one after the other; null for something that is none, once for each such part.
    /// </summary>
    public static IEnumerable<SignedNote?> Notes(TextReader text)
    {
        var lines = new StringBuilder();
        var isSigned = false;
        for (var line = text.ReadLine(); line is not null; line = text.ReadLine())
        {
            if (line.Length == 0 && isSigned)
            {
                yield return Read(lines.ToString());
                (isSigned, _) = (false, lines.Clear());
                continue;
            }
            isSigned |= line.StartsWith('—');
            if (lines.Length < SignedNote.BytesMost) lines.Append(line).Append('\n');
        }
        if (lines.Length > 0) yield return null;
    }

    private static SignedNote? Read(string text) =>
        SignedNote.TryRead(Encoding.UTF8.GetBytes(text), out var note, out _) ? note : null;

    // Every whole note ends with an empty line, and only whole notes do: the one within a note is followed by more.
    private long WholeLength(FileStream file)
    {
        var tail = new byte[Math.Min(file.Length, TailBytes)];
        file.Seek(-tail.Length, SeekOrigin.End);
        file.ReadExactly(tail);
        var text = Encoding.Latin1.GetString(tail);
        var dash = Encoding.Latin1.GetString("—"u8);
        for (var end = text.LastIndexOf("\n\n", StringComparison.Ordinal); end >= 0;
            end = end == 0 ? -1 : text.LastIndexOf("\n\n", end - 1, StringComparison.Ordinal))
        {
            var line = text.LastIndexOf('\n', Math.Max(0, end - 1)) + 1;
            if (text.AsSpan(line).StartsWith(dash, StringComparison.Ordinal))
                return file.Length - tail.Length + end + 2;
        }
        return file.Length <= LongestFirst
            ? 0
            : throw new StoreException(StoreFaultKind.Final, $"The file {path} does not end with a checkpoint. Nothing "
                + "is appended to it; look at what became of it, and put it back from a copy.");
    }
}
