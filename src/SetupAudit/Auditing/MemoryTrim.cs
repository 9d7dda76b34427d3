using System.Runtime.InteropServices;

namespace SetupAudit.Auditing;

/// <summary>
/// Gives memory back to the system in quiet moments: a service that has taken in years of files would else hold the
/// memory of that hour for as long as it runs. What the start leaves behind is much too.
/// </summary>
internal sealed class MemoryTrim(TimeProvider clock)
{
    // After this many arrivals the heap has grown for them, and nothing that follows would make the runtime shrink it.
    private const int ManyArrivals = 1000;

    // Not once only: the runtime goes on compiling what was busy, and lets go of what it pools when that has grown old.
    private static readonly TimeSpan[] After = [TimeSpan.Zero, TimeSpan.FromMinutes(1), TimeSpan.FromMinutes(3)];

    private int _read = ManyArrivals;
    private int _done = After.Length;
    private long _from;

    /// <summary>How often it trimmed.</summary>
    public int Times { get; private set; }

    /// <summary>Arrivals were read.</summary>
    public void Read(int arrivals) => _read += arrivals;

    /// <summary>Nothing waits: called again and again, and trims only where that is due.</summary>
    public void Quiet()
    {
        if (_read >= ManyArrivals) (_read, _done, _from) = (0, 0, clock.GetTimestamp());
        if (_done == After.Length || clock.GetElapsedTime(_from) < After[_done]) return;
        _done++;
        Times++;
        GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
        if (OperatingSystem.IsLinux()) TrimNative();
    }

    // The database, the compressor and the compiler take theirs from the C library, which keeps what they freed.
    private static void TrimNative()
    {
        if (NativeLibrary.TryLoad("libc.so.6", out var library)
            && NativeLibrary.TryGetExport(library, "malloc_trim", out _))
            _ = malloc_trim(0);
    }

    [DllImport("libc.so.6")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int malloc_trim(nint keepBytes);
}
