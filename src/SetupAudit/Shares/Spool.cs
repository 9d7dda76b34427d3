using Microsoft.Win32.SafeHandles;

namespace SetupAudit.Shares;

/// <summary>
/// A large file's bytes on the local disk, between the share and the store: so that the store, which all shares wait
/// for, never waits for a share. The file has no name any more where the system allows that, and is gone when closed.
/// </summary>
internal sealed class Spool : IDisposable
{
    private readonly SafeFileHandle _handle;

    private Spool(SafeFileHandle handle) => _handle = handle;

    /// <summary>Null where it cannot be made: then the share itself is read once more.</summary>
    public static Spool? TryCreate(string? folder)
    {
        if (folder is null) return null;
        try
        {
            var path = Path.Join(folder, $"setupaudit-{Path.GetRandomFileName()}");
            var handle = File.OpenHandle(
                path, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.Delete, FileOptions.DeleteOnClose);
            if (!OperatingSystem.IsWindows()) File.Delete(path);
            return new Spool(handle);
        }
        catch (Exception fault) when (ShareErrors.Expected(fault))
        {
            return null;
        }
    }

    /// <summary>False when the disk takes no more.</summary>
    public bool TryWrite(ReadOnlySpan<byte> bytes, long offset)
    {
        try
        {
            RandomAccess.Write(_handle, bytes, offset);
            return true;
        }
        catch (Exception fault) when (ShareErrors.Expected(fault))
        {
            return false;
        }
    }

    /// <summary>Reading it closes nothing: the bytes stay until the spool is disposed of.</summary>
    public IShareFile Open() => _handle.IsClosed
        ? throw new FileNotFoundException("it was kept already")
        : new View(_handle);

    public void Dispose() => _handle.Dispose();

    private sealed class View(SafeFileHandle handle) : IShareFile
    {
        public FileStamp Stat() => new(RandomAccess.GetLength(handle), default);

        public int Read(Span<byte> buffer, long offset) => RandomAccess.Read(handle, buffer, offset);

        public void Dispose()
        {
        }
    }
}
