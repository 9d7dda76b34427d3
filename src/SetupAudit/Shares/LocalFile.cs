using Microsoft.Win32.SafeHandles;

namespace SetupAudit.Shares;

/// <summary>An open file of the local file system or a mount.</summary>
internal sealed class LocalFile : IShareFile
{
    private readonly SafeFileHandle _handle;

    public LocalFile(string path)
    {
        _handle = LinuxOpen.Available
            ? LinuxOpen.Read(path)
            : File.OpenHandle(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        try
        {
            Stat();
        }
        catch (NotSupportedException fault)
        {
            _handle.Dispose();
            throw new IOException("it is a pipe or a device, not a file", fault);
        }
    }

    public FileStamp Stat()
    {
        try
        {
            return new FileStamp(RandomAccess.GetLength(_handle), File.GetLastWriteTimeUtc(_handle));
        }
        catch (ArgumentOutOfRangeException fault)
        {
            // A server may give any number of seconds; that must not stop the folder.
            throw new IOException("its time lies beyond the year 9999 or before the year 1", fault);
        }
    }

    public int Read(Span<byte> buffer, long offset) => RandomAccess.Read(_handle, buffer, offset);

    public void Dispose() => _handle.Dispose();
}
