using System.Buffers.Binary;
using System.Runtime.InteropServices;
using System.Text;
using Microsoft.Win32.SafeHandles;

namespace SetupAudit.Shares;

/// <summary>
/// Lists a folder with each entry's size and time, asking by the name below the open folder: .NET asks by the whole
/// path, which the system then walks again for each of ten thousand files.
/// </summary>
internal static class LinuxListing
{
    private const int BufferBytes = 64 * 1024;
    private const int NameMost = 1024;

    // getdents64(2): inode (8), offset (8), length of the entry (2), type (1), name.
    private const int EntryLengthAt = 16;
    private const int EntryNameAt = 19;

    // statx(2): mode at 28, size at 40, seconds and nanoseconds of the modification at 112 and 120, of 256 bytes.
    private const int StatBytes = 256;
    private const int ModeAt = 28;
    private const int SizeAt = 40;
    private const int SecondsAt = 112;
    private const int NanosecondsAt = 120;
    private const uint TypeSizeAndTime = 0x1 | 0x40 | 0x200;
    private const int NoFollowNoAutomount = 0x100 | 0x800;
    private const int KindMask = 0xF000;
    private const int Folder = 0x4000;
    private const int Link = 0xA000;

    private const int NotFound = 2;
    private const int Interrupted = 4;
    private const long NanosecondsPerTick = 100;

    // The first call of the least kernel that .NET runs on may still lack it where a sandbox forbids it.
    private const int NotImplemented = 38;
    private const int NotPermitted = 1;

    [ThreadStatic]
    private static byte[]? _entries;

    private static long Number => RuntimeInformation.ProcessArchitecture == Architecture.Arm64 ? 61 : 217;

    /// <summary>False where the system does not have what it takes: then nothing was visited.</summary>
    public static bool TryList(string folder, EntryVisitor visit)
    {
        if (!LinuxOpen.Available) return false;
        using var open = LinuxOpen.Folder(folder);
        var entries = _entries ??= new byte[BufferBytes];
        var isFirst = true;
        while (true)
        {
            var length = Entries(Number, open, ref entries[0], BufferBytes);
            if (length == 0) return true;
            if (length < 0)
            {
                var error = Marshal.GetLastPInvokeError();
                if (error == Interrupted) continue;
                throw LinuxOpen.Fault(error, folder);
            }

            if (!Visit(open, entries.AsSpan(0, (int)length), visit, ref isFirst, folder)) return false;
        }
    }

    private static bool Visit(
        SafeFileHandle open, Span<byte> entries, EntryVisitor visit, ref bool isFirst, string folder)
    {
        Span<char> name = stackalloc char[NameMost];
        Span<byte> stat = stackalloc byte[StatBytes];
        while (entries.Length > EntryNameAt)
        {
            var entry = entries[..BinaryPrimitives.ReadUInt16LittleEndian(entries[EntryLengthAt..])];
            entries = entries[entry.Length..];
            var bytes = entry[EntryNameAt..];
            bytes = bytes[..(bytes.IndexOf((byte)0) + 1)];
            if (bytes is [(byte)'.', 0] or [(byte)'.', (byte)'.', 0]) continue;
            if (Statx(open, ref bytes[0], NoFollowNoAutomount, TypeSizeAndTime, ref stat[0]) != 0)
            {
                var error = Marshal.GetLastPInvokeError();
                if (isFirst && error is NotImplemented or NotPermitted) return false;
                if (error == NotFound) continue; // It went between the two calls.
                throw LinuxOpen.Fault(error, folder);
            }

            isFirst = false;
            if (!Encoding.UTF8.TryGetChars(bytes[..^1], name, out var length)) continue;
            visit(name[..length], KindOf(stat), StampOf(stat));
        }

        return true;
    }

    private static EntryKind KindOf(ReadOnlySpan<byte> stat) =>
        (BinaryPrimitives.ReadUInt16LittleEndian(stat[ModeAt..]) & KindMask) switch
        {
            Folder => EntryKind.Folder,
            Link => EntryKind.Link,
            _ => EntryKind.File,
        };

    private static FileStamp StampOf(ReadOnlySpan<byte> stat)
    {
        var seconds = BinaryPrimitives.ReadInt64LittleEndian(stat[SecondsAt..]);
        var ticks = BinaryPrimitives.ReadUInt32LittleEndian(stat[NanosecondsAt..]) / NanosecondsPerTick;
        // A server may give any number.
        seconds = Math.Clamp(seconds, DateTimeOffset.MinValue.ToUnixTimeSeconds(),
            DateTimeOffset.MaxValue.ToUnixTimeSeconds());
        return new FileStamp(
            BinaryPrimitives.ReadInt64LittleEndian(stat[SizeAt..]),
            DateTime.UnixEpoch.AddTicks((seconds * TimeSpan.TicksPerSecond) + ticks));
    }

    [DllImport("libc", EntryPoint = "syscall", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern nint Entries(long number, SafeFileHandle folder, ref byte buffer, nint length);

    [DllImport("libc", EntryPoint = "statx", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Statx(SafeFileHandle folder, ref byte name, int flags, uint mask, ref byte stat);
}
