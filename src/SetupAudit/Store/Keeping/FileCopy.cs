using Microsoft.Win32.SafeHandles;

namespace SetupAudit.Store.Keeping;

/// <summary>Copies a file so that the copy is whole and on disk under its name, or not there.</summary>
internal static class FileCopy
{
    private const int BlockBytes = 1024 * 1024;

    /// <summary>Copies so many bytes from the beginning; bytes that a writer appends meanwhile are left out.</summary>
    public static void Copy(string from, string to, long length)
    {
        var draft = to + ".new";
        using (var source = File.OpenHandle(
            from, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete))
        using (var target = File.OpenHandle(draft, FileMode.Create, FileAccess.Write, FileShare.None))
        {
            CopyBytes(source, target, length, from);
            RandomAccess.FlushToDisk(target);
        }
        File.Move(draft, to, overwrite: true);
    }

    public static void Copy(string from, string to) => Copy(from, to, new FileInfo(from).Length);

    /// <summary>Makes the names in a folder outlive a power cut.</summary>
    public static void FlushNames(string folder)
    {
        if (!OperatingSystem.IsWindows() && !Posix.FlushFolder(folder))
            throw new IOException($"The folder {folder} could not be flushed to disk.");
    }

    private static void CopyBytes(SafeFileHandle source, SafeFileHandle target, long length, string from)
    {
        var block = new byte[BlockBytes];
        for (long at = 0; at < length;)
        {
            var read = RandomAccess.Read(source, block.AsSpan(0, (int)Math.Min(block.Length, length - at)), at);
            if (read == 0) throw new IOException($"{from} ends at byte {at}, before the {length} it had.");
            RandomAccess.Write(target, block.AsSpan(0, read), at);
            at += read;
        }
    }
}
