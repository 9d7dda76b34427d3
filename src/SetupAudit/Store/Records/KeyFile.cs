using System.Globalization;
using System.Runtime.Versioning;
using System.Security.AccessControl;
using System.Security.Principal;

namespace SetupAudit.Store.Records;

/// <summary>
/// A file that holds a private key. It is made with the narrowest permissions there are, before a byte of the key is in
/// it, and one that others can read is refused.
/// </summary>
internal static class KeyFile
{
    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite;
    private const UnixFileMode Others = UnixFileMode.GroupRead | UnixFileMode.GroupWrite | UnixFileMode.GroupExecute
        | UnixFileMode.OtherRead | UnixFileMode.OtherWrite | UnixFileMode.OtherExecute;

    /// <summary>The ending of a key that is not whole yet.</summary>
    public const string Unfinished = ".new";

    /// <summary>A key in PEM is some 120 bytes; a file that is much longer holds something else.</summary>
    public const int BytesMost = 4096;

    /// <summary>Writes a key where no file is yet; after it returns the key outlives a power cut.</summary>
    public static void Create(string path, ReadOnlySpan<byte> key)
    {
        // Under another name until it is whole: a crash half-way must not leave a torn key under this one.
        var unfinished = path + Unfinished;
        File.Delete(unfinished);
        using (var file = OperatingSystem.IsWindows() ? CreateOnWindows(unfinished) : CreateOnUnix(unfinished))
        {
            file.Write(key);
            file.Flush(flushToDisk: true);
        }
        File.Move(unfinished, path, overwrite: false);
        if (!OperatingSystem.IsWindows() && !Posix.FlushFolder(Path.GetDirectoryName(Path.GetFullPath(path)) ?? "/"))
            throw new StoreException($"The folder of the record's key {path} could not be flushed to the disk.");
    }

    public static byte[] Read(string path)
    {
        if (!File.Exists(path))
            throw new StoreException(StoreFaultKind.Final,
                $"The record's key {path} is not there. Put it back from where it is kept safe. Where it is lost for " +
                "good: 'backup --out DIR' copies the record without it; move the store's folder aside, and 'restore " +
                "--from DIR --new-record' with --by and --reason begins a new record over the same rows, with a new " +
                "key to be made known to everyone who checks it, and keeps this one to be read and verified.");
        if (!OperatingSystem.IsWindows() && (File.GetUnixFileMode(path) & Others) is not UnixFileMode.None)
            throw new StoreException(StoreFaultKind.Final,
                $"The record's key {path} can be used by others than its owner (mode {OctalMode(path)}), so its " +
                "signatures would prove nothing. Set it to 600, and make a new key if somebody may have copied it.");
        if (new FileInfo(path).Length > BytesMost)
            throw new StoreException(StoreFaultKind.Final, $"The file {path} is no key: it is too long.");
        return File.ReadAllBytes(path);
    }

    [UnsupportedOSPlatform("windows")]
    private static FileStream CreateOnUnix(string path) => new(path, new FileStreamOptions
    {
        Mode = FileMode.CreateNew,
        Access = FileAccess.Write,
        UnixCreateMode = OwnerOnly,
    });

    // A protected list takes nothing over from the folder: the account that runs the service, and nobody else.
    [SupportedOSPlatform("windows")]
    private static FileStream CreateOnWindows(string path)
    {
        using var account = WindowsIdentity.GetCurrent();
        var security = new FileSecurity();
        security.SetAccessRuleProtection(isProtected: true, preserveInheritance: false);
        if (account.User is { } user)
            security.AddAccessRule(new(user, FileSystemRights.FullControl, AccessControlType.Allow));
        return new FileInfo(path).Create(
            FileMode.CreateNew, FileSystemRights.Write, FileShare.None, BytesMost, FileOptions.None, security);
    }

    [UnsupportedOSPlatform("windows")]
    private static string OctalMode(string path) =>
        Convert.ToString((int)File.GetUnixFileMode(path), 8).PadLeft(3, '0').ToString(CultureInfo.InvariantCulture);
}
