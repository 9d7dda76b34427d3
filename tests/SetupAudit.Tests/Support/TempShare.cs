using System.Globalization;
using System.Text;

namespace SetupAudit.Support;

/// <summary>
/// A folder of its own for one test, named for it and removed afterwards, whatever the test did to its permissions.
/// SETUPAUDIT_KEEP=1 keeps it for a look.
/// </summary>
public sealed class TempShare : IDisposable
{
    private const int NameMost = 60;
    private static int _count;

    public TempShare()
    {
        var name = string.Create(CultureInfo.InvariantCulture,
            $"{NameOfTest()}-{Environment.ProcessId}-{Interlocked.Increment(ref _count)}");
        Folder = Directory.CreateDirectory(Path.Combine(Path.GetTempPath(), "setupaudit-tests", name)).FullName;
    }

    /// <summary>The folder itself, as a full path.</summary>
    public string Folder { get; }

    /// <summary>The full path of a name below the folder; the name uses forward slashes.</summary>
    public string this[string name] => Path.GetFullPath(Path.Combine(Folder, name));

    /// <summary>Writes a file, with the folders above it, and gives it that time (ISO 8601) as its modification time.</summary>
    public string Write(string name, ReadOnlySpan<byte> bytes, string? modified = null)
    {
        var path = this[name];
        Directory.CreateDirectory(Path.GetDirectoryName(path) ?? Folder);
        File.WriteAllBytes(path, bytes);
        if (modified is not null) Touch(name, modified);
        return path;
    }

    public string Write(string name, string text, string? modified = null) =>
        Write(name, Encoding.UTF8.GetBytes(text), modified);

    /// <summary>Appends to a file as a print-out grows.</summary>
    public string Append(string name, string text, string? modified = null)
    {
        File.AppendAllText(this[name], text);
        if (modified is not null) Touch(name, modified);
        return this[name];
    }

    public void Touch(string name, string modified) => File.SetLastWriteTimeUtc(this[name], Moment(modified).UtcDateTime);

    public void Delete(string name) => File.Delete(this[name]);

    public string Text(string name) => File.ReadAllText(this[name]);

    public void Dispose()
    {
        if (Environment.GetEnvironmentVariable("SETUPAUDIT_KEEP") == "1") return;
        if (!Directory.Exists(Folder)) return;
        AllowRemoval(new DirectoryInfo(Folder));
        Directory.Delete(Folder, recursive: true);
    }

    private static DateTimeOffset Moment(string text) =>
        DateTimeOffset.Parse(text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal);

    // A test may have taken away the right to list or write a folder; links are not followed.
    private static void AllowRemoval(DirectoryInfo folder)
    {
        if (!OperatingSystem.IsWindows()) folder.UnixFileMode |= UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;
        foreach (var below in folder.EnumerateDirectories())
            if (below.LinkTarget is null) AllowRemoval(below);
    }

    private static string NameOfTest()
    {
        var name = TestContext.Current.TestMethod?.MethodName ?? "no-test";
        return name.Length <= NameMost ? name : name[..NameMost];
    }
}
