using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace SetupAudit.Shares;

/// <summary>
/// Writes as an old control does: over the same file, in place, in pieces; and a print-out that grows and rotates. It
/// remembers each version it finished, which is what must be kept.
/// </summary>
internal sealed class ControlWriter(string folder, string name, TimeSpan settle)
{
    private const int LargeBytes = 400_000;
    private readonly List<(string File, string Sha256)> _versions = [];
    private readonly HashSet<string> _halves = new(StringComparer.Ordinal);
    private readonly List<string> _features = [];
    private int _count;

    /// <summary>File name and hash of each version that was finished, in order.</summary>
    public IReadOnlyList<(string File, string Sha256)> Versions => _versions;

    /// <summary>
    /// Hashes of halves that lay still for so long that nobody can tell them from a finished file: the machine was
    /// busy. They may be kept, and need not.
    /// </summary>
    public IReadOnlySet<string> Halves => _halves;

    /// <summary>What was printed, a feature a line, each of them once.</summary>
    public IReadOnlyList<string> Features => _features;

    /// <summary>Overwrites a dump, in two pieces with something in between; gives the new version's hash.</summary>
    public string Overwrite(string file, bool isLarge, Action between)
    {
        var bytes = Encoding.ASCII.GetBytes(Dump(++_count, isLarge));
        var half = bytes.AsSpan(0, bytes.Length / 2);
        long since;
        var path = Path.Combine(folder, "offsets", file);
        using (var stream = new FileStream(path, FileMode.Create, FileAccess.Write, FileShare.ReadWrite | FileShare.Delete))
        {
            stream.Write(half);
            stream.Flush();
            since = Stopwatch.GetTimestamp();
            between();
            stream.Write(bytes.AsSpan(half.Length));
        }

        if (Stopwatch.GetElapsedTime(since) > settle / 2) _halves.Add(Hash(half));
        var sha256 = Hash(bytes);
        _versions.Add((file, sha256));
        return sha256;
    }

    /// <summary>Appends some lines to the print-out.</summary>
    public void Print(int lines)
    {
        var text = new StringBuilder();
        for (var line = 0; line < lines; line++)
        {
            var feature = string.Create(CultureInfo.InvariantCulture, $"{name}-{_features.Count}");
            text.Append(CultureInfo.InvariantCulture, $"{DateTime.UtcNow:yyyy-MM-dd HH:mm:ss} TOUCH {feature} G54 SIZE 25.001\n");
            _features.Add(feature);
        }

        File.AppendAllText(Path.Combine(folder, "prints", "print.log"), text.ToString());
    }

    /// <summary>The print-out goes under a numbered name; the next line begins a new one.</summary>
    public void Rotate(int number) => File.Move(Path.Combine(folder, "prints", "print.log"),
        Path.Combine(folder, "prints", string.Create(CultureInfo.InvariantCulture, $"print-{number}.log")));

    private string Dump(int number, bool isLarge)
    {
        var text = new StringBuilder("%\n");
        text.Append(CultureInfo.InvariantCulture, $"G10 L2 P1 X-310.{number:0000} Y-205. Z-300.\n({name} {number})\n");
        while (isLarge && text.Length < LargeBytes)
            text.Append(CultureInfo.InvariantCulture, $"(made up, line {text.Length} of version {number})\n");
        return text.Append("%\n").ToString();
    }

    private static string Hash(ReadOnlySpan<byte> bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));
}
