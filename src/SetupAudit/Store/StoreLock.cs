using System.Globalization;
using System.Text;
using Microsoft.Win32.SafeHandles;

namespace SetupAudit.Store;

/// <summary>The right to write to a store. The system takes it back when the process ends, however it ends.</summary>
internal sealed class StoreLock : IDisposable
{
    public const string FileName = "store.lock";

    private const int LongestWords = 1024;
    private const int SharingViolation = 32;
    private const int TryAgain = 11;
    private const int TryAgainOnMac = 35;

    private readonly SafeFileHandle _file;

    private StoreLock(SafeFileHandle file) => _file = file;

    /// <summary>Takes the lock, or throws with a sentence that says who holds it.</summary>
    public static StoreLock Take(string folder, DateTimeOffset nowUtc)
    {
        var path = Path.Combine(folder, FileName);
        SafeFileHandle? file = null;
        try
        {
            file = File.OpenHandle(path, FileMode.OpenOrCreate, FileAccess.ReadWrite,
                OperatingSystem.IsWindows() ? FileShare.Read : FileShare.ReadWrite);
            if (!OperatingSystem.IsWindows() && !Posix.TryLock(file)) throw Held(folder, path, null);
            Write(file, nowUtc);
            var taken = new StoreLock(file);
            file = null;
            return taken;
        }
        catch (IOException fault) when (IsHeld(fault))
        {
            throw Held(folder, path, fault);
        }
        finally
        {
            file?.Dispose();
        }
    }

    /// <summary>Whether another process writes the store. Nothing is written to find out.</summary>
    public static bool IsHeld(string folder)
    {
        var path = Path.Combine(folder, FileName);
        if (!File.Exists(path)) return false;
        try
        {
            using var file = File.OpenHandle(path, FileMode.Open, FileAccess.Read,
                OperatingSystem.IsWindows() ? FileShare.Read : FileShare.ReadWrite);
            return !OperatingSystem.IsWindows() && Posix.IsLocked(file);
        }
        catch (IOException fault) when (IsHeld(fault))
        {
            return true;
        }
    }

    public void Dispose()
    {
        if (!OperatingSystem.IsWindows() && !_file.IsClosed) Posix.Unlock(_file);
        _file.Dispose();
    }

    // Windows answers a sharing violation; other systems try again, where the class library's own locking is on.
    private static bool IsHeld(IOException fault) => OperatingSystem.IsWindows()
        ? (fault.HResult & 0xFFFF) == SharingViolation
        : fault.HResult is TryAgain or TryAgainOnMac;

    private static void Write(SafeFileHandle file, DateTimeOffset nowUtc)
    {
        var words = string.Create(CultureInfo.InvariantCulture,
            $"process {Environment.ProcessId}, started writing here at {nowUtc:yyyy-MM-ddTHH:mm:ssZ}\n");
        RandomAccess.SetLength(file, 0);
        RandomAccess.Write(file, Encoding.UTF8.GetBytes(words), 0);
    }

    private static StoreException Held(string folder, string path, IOException? fault) => new(StoreFaultKind.Final,
        $"Another setupaudit writes the store in {folder} ({Words(path)}). One service writes a store at a time: " +
        "stop that one first. The commands list, state and report read beside it.", fault)
    {
        IsHeld = true,
    };

    private static string Words(string path)
    {
        try
        {
            using var file = File.OpenHandle(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
            var bytes = new byte[LongestWords];
            var words = Encoding.UTF8.GetString(bytes, 0, RandomAccess.Read(file, bytes, 0)).Trim();
            return words.Length == 0 ? "it does not say which" : words;
        }
        catch (IOException)
        {
            return "it does not say which";
        }
    }
}
