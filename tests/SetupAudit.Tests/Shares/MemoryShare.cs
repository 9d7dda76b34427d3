using System.Text;

namespace SetupAudit.Shares;

/// <summary>
/// A share in memory that behaves as badly as real ones: short reads, faults half-way through a listing, times by a
/// clock of its own with a tick of its own, and a hook on every call for what happens meanwhile.
/// </summary>
internal sealed class MemoryShare(TimeProvider clock) : IShareFiles
{
    public const string Root = "/share";
    public const string LocalDisk = "/share ext4 /dev/sdb1";
    public const string Nas = "/share cifs //nas/share";
    public const int Eio = 5;
    public const int Estale = 116;

    private readonly SortedDictionary<string, Entry> _entries = new(StringComparer.Ordinal);
    private readonly Dictionary<string, (FileStamp Stamp, DateTimeOffset SinceUtc)> _held = new(StringComparer.Ordinal);

    /// <summary>How far the server's clock is ahead of ours.</summary>
    public TimeSpan Skew { get; set; }

    /// <summary>What the server's file system rounds times down to.</summary>
    public TimeSpan Tick { get; set; } = TimeSpan.FromTicks(1);

    /// <summary>The most bytes that one read gives.</summary>
    public int MostPerRead { get; set; } = int.MaxValue;

    /// <summary>Called before each call: "list", "entry", "open", "stat", "read", "mount", and the name. May throw.</summary>
    public Action<string, string> Before { get; set; } = (_, _) => { };

    public string? MountedOn { get; set; } = LocalDisk;

    /// <summary>For how long it may go on showing a size and time, and cuts reads at that size.</summary>
    public TimeSpan HoldsAttributes { get; set; }

    /// <summary>Whether a read gives nothing, as at the end of the file, and no error either.</summary>
    public Func<string, bool> EndsEarly { get; set; } = _ => false;

    /// <summary>Whether a listing leaves a name out and says nothing.</summary>
    public Func<string, bool> Hides { get; set; } = _ => false;

    public int Opened { get; private set; }

    public long BytesRead { get; private set; }

    public int OpenNow { get; private set; }

    /// <summary>The mount is gone: every name is, and the folder below is empty.</summary>
    public bool IsUnmounted { get; set; }

    public static IOException Fault(int number) => new($"errno {number}", number);

    public DateTime Now
    {
        get
        {
            var now = (clock.GetUtcNow() + Skew).UtcDateTime;
            return now.AddTicks(-(now.Ticks % Tick.Ticks));
        }
    }

    public FileStamp Stamp(string name) => _entries[name].Stamp;

    public byte[] Bytes(string name) => _entries[name].Content;

    public bool Has(string name) => _entries.ContainsKey(name);

    public void Write(string name, string text, DateTime? modified = null) =>
        Write(name, Encoding.UTF8.GetBytes(text), modified);

    public void Write(string name, byte[] content, DateTime? modified = null) =>
        _entries[name] = new Entry(EntryKind.File, content, modified ?? Now);

    public void Append(string name, string text)
    {
        var before = _entries.TryGetValue(name, out var entry) ? entry.Content : [];
        Write(name, [.. before, .. Encoding.UTF8.GetBytes(text)]);
    }

    public void Touch(string name, DateTime modified) => _entries[name] = _entries[name] with { Modified = modified };

    public void Make(string name, EntryKind kind) => _entries[name] = new Entry(kind, [], Now);

    public void Rename(string from, string to)
    {
        _entries[to] = _entries[from];
        _entries.Remove(from);
    }

    public void Delete(string name) => _entries.Remove(name);

    public void List(string folder, EntryVisitor visit)
    {
        var below = folder == Root ? "" : folder[(Root.Length + 1)..] + "/";
        Before("list", below);
        if (IsUnmounted) return;
        foreach (var (name, entry) in _entries.ToList())
        {
            if (!name.StartsWith(below, StringComparison.Ordinal)) continue;
            var rest = name[below.Length..];
            if (rest.Contains('/', StringComparison.Ordinal)) continue;
            Before("entry", name);
            if (Hides(name)) continue;
            visit(rest, entry.Kind, Shown(name, entry.Stamp));
        }
    }

    public IShareFile Open(string path)
    {
        var name = path[(Root.Length + 1)..];
        Before("open", name);
        if (IsUnmounted || !_entries.TryGetValue(name, out var entry)) throw new FileNotFoundException("gone", path);
        if (entry.Kind != EntryKind.File) throw Fault(Eio);
        Opened++;
        OpenNow++;
        return new MemoryFile(this, name, entry);
    }

    public string? Mount(string folder)
    {
        Before("mount", "");
        return IsUnmounted ? "/ ext4 /dev/vda" : MountedOn;
    }

    private FileStamp Shown(string name, FileStamp now)
    {
        if (HoldsAttributes == TimeSpan.Zero) return now;
        if (_held.TryGetValue(name, out var held) && clock.GetUtcNow() - held.SinceUtc < HoldsAttributes) return held.Stamp;
        _held[name] = (now, clock.GetUtcNow());
        return now;
    }

    private sealed record Entry(EntryKind Kind, byte[] Content, DateTime Modified)
    {
        public FileStamp Stamp => new(Content.Length, Modified);
    }

    // Like a real handle: it stays on the file that was opened when that is renamed or deleted, and sees it change.
    private sealed class MemoryFile(MemoryShare share, string name, Entry opened) : IShareFile
    {
        private Entry Now => share._entries.TryGetValue(name, out var now) && now.Kind == EntryKind.File ? now : opened;

        public FileStamp Stat()
        {
            share.Before("stat", name);
            return share.Shown(name, Now.Stamp);
        }

        public int Read(Span<byte> buffer, long offset)
        {
            share.Before("read", name);
            var content = Now.Content;
            var shown = share.Shown(name, Now.Stamp).SizeBytes;
            if (shown < content.Length) content = content[..(int)shown];
            if (offset >= content.Length || share.EndsEarly(name)) return 0;
            var count = Math.Min(Math.Min(buffer.Length, share.MostPerRead), content.Length - (int)offset);
            content.AsSpan((int)offset, count).CopyTo(buffer);
            share.BytesRead += count;
            return count;
        }

        public void Dispose() => share.OpenNow--;
    }
}
