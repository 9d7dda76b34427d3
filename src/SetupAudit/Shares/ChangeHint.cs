using Serilog;

namespace SetupAudit.Shares;

/// <summary>
/// Asks the system to tell of changes, so that the next poll comes sooner. It sees no remote writers and may go deaf:
/// nothing rests on it.
/// </summary>
internal sealed class ChangeHint : IDisposable
{
    // A user may have 128 of these on Linux for all programs together.
    private const int MostHints = 48;
    private static int _hints;
    private readonly FileSystemWatcher _watcher;
    private bool _isClosed;

    private ChangeHint(string folder, bool isDeep, Action poke)
    {
        _watcher = new FileSystemWatcher(folder)
        {
            IncludeSubdirectories = isDeep,
            NotifyFilter = NotifyFilters.FileName | NotifyFilters.LastWrite | NotifyFilters.Size,
        };
        _watcher.Changed += (_, _) => poke();
        _watcher.Created += (_, _) => poke();
        _watcher.Renamed += (_, _) => poke();
        _watcher.Error += (_, _) => IsDeaf = true;
        _watcher.EnableRaisingEvents = true;
    }

    /// <summary>It told of an error; it must be made anew.</summary>
    public bool IsDeaf { get; private set; }

    /// <summary>Null where the system cannot; may block on a dead mount.</summary>
    public static ChangeHint? Try(ShareSource source, Action poke)
    {
        if (Interlocked.Increment(ref _hints) > MostHints)
        {
            Interlocked.Decrement(ref _hints);
            return null;
        }

        try
        {
            var isDeep = source.Watch.Files.Contains('/', StringComparison.Ordinal);
            return new ChangeHint(source.Watch.FullFolder, isDeep, poke);
        }
        catch (Exception fault) when (fault is ArgumentException or PlatformNotSupportedException
            || ShareErrors.Expected(fault))
        {
            Interlocked.Decrement(ref _hints);
            Log.Debug(fault, "No change notification for {Source}, polling alone", source);
            return null;
        }
    }

    public void Dispose()
    {
        if (_isClosed) return;
        _isClosed = true;
        _watcher.Dispose();
        Interlocked.Decrement(ref _hints);
    }
}
