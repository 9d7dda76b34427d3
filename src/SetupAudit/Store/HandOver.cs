using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;
using Serilog;

namespace SetupAudit.Store;

/// <summary>
/// A folder in the store, its owner's alone, through which a command reaches the process that holds the store. What is
/// asked is written beside, flushed and renamed, so that it is there whole or not at all; it goes when its answer is
/// there.
/// </summary>
/// <param name="storeFolder">The folder of the store.</param>
/// <param name="name">The folder's name in it.</param>
/// <param name="asked">The ending of what is asked, with its point.</param>
public sealed partial class HandOver(string storeFolder, string name, string asked)
{
    private const string Answered = ".answer";
    private const int LargestBytes = 64 * 1024;
    private const int AtOnce = 100;

    private static readonly TimeSpan KeptFor = TimeSpan.FromDays(1);

    private readonly string _folder = Path.Combine(storeFolder, name);
    private bool _isShut;

    public static string NewId(DateTimeOffset nowUtc) => string.Create(CultureInfo.InvariantCulture,
        $"{nowUtc.UtcDateTime:yyyyMMdd-HHmmss}-{RandomNumberGenerator.GetHexString(12, lowercase: true)}");

    /// <summary>Hands a text over; when this returns it is on disk.</summary>
    public void Put(string id, string text)
    {
        StoreRights.RequireOwn(storeFolder);
        Write(id + asked, text);
    }

    /// <summary>Takes back what nobody answered.</summary>
    public void TakeBack(string id) => File.Delete(Path.Combine(_folder, id + asked));

    /// <summary>The answer, which is taken away with it; null while there is none.</summary>
    public string? Answer(string id)
    {
        var path = Path.Combine(_folder, id + Answered);
        if (!File.Exists(path) || Read(path) is not { } text) return null;
        File.Delete(path);
        return text;
    }

    /// <summary>
    /// What waits to be taken in, oldest first; what <paramref name="read"/> makes nothing of is set aside.
    /// </summary>
    public IReadOnlyList<T> Waiting<T>(Func<string, string, T?> read)
        where T : class
    {
        var waiting = new List<T>();
        if (!Directory.Exists(_folder)) return waiting;
        try
        {
            Gather(read, waiting);
            _isShut = false;
        }
        catch (UnauthorizedAccessException fault)
        {
            Told(fault);
        }
        return waiting;
    }

    /// <summary>Answers; only then is what was asked taken away.</summary>
    public void Say(string id, string text)
    {
        Write(id + Answered, text);
        TakeBack(id);
    }

    /// <summary>Takes answers away that nobody came for, and what was never finished.</summary>
    public void Tidy(DateTimeOffset nowUtc)
    {
        if (!Directory.Exists(_folder)) return;
        try
        {
            foreach (var file in new DirectoryInfo(_folder).EnumerateFiles())
                if (file.Extension != asked && nowUtc - file.LastWriteTimeUtc > KeptFor) file.Delete();
        }
        catch (UnauthorizedAccessException fault)
        {
            Told(fault);
        }
    }

    private void Gather<T>(Func<string, string, T?> read, List<T> waiting)
        where T : class
    {
        foreach (var path in Directory.EnumerateFiles(_folder, "*" + asked).Order(StringComparer.Ordinal).Take(AtOnce))
        {
            var id = Path.GetFileNameWithoutExtension(path);
            if (Id().IsMatch(id) && Read(path) is { } text && read(id, text) is { } one) waiting.Add(one);
            else SetAside(path);
        }
    }

    // What another account has put there keeps people waiting, never the audit.
    private void Told(UnauthorizedAccessException fault)
    {
        if (!_isShut)
            Log.Error("What is handed over cannot be taken in: {Reason} Give {Folder} to the account of the service",
                fault.Message, _folder);
        _isShut = true;
    }

    private static void SetAside(string path)
    {
        Log.Warning("Set {File} aside: it is nothing that could be taken in", path);
        File.Move(path, path + ".refused", overwrite: true);
    }

    // No link is followed and nothing large is read: whoever can write here could otherwise make the service read it.
    private static string? Read(string path)
    {
        var file = new FileInfo(path);
        if (!file.Exists || file.LinkTarget is not null || file.Length > LargestBytes) return null;
        return File.ReadAllText(path, Encoding.UTF8);
    }

    private void Write(string file, string text)
    {
        MakeFolder();
        var path = Path.Combine(_folder, file);
        var part = $"{path}.{RandomNumberGenerator.GetHexString(8, lowercase: true)}.part";
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        using (var stream = new FileStream(part, options))
        {
            stream.Write(Encoding.UTF8.GetBytes(text));
            stream.Flush(flushToDisk: true);
        }
        // Bytes on disk, then the name that counts.
        File.Move(part, path, overwrite: true);
        if (!OperatingSystem.IsWindows() && !Posix.FlushFolder(_folder))
            throw new IOException($"{_folder} could not be flushed to disk");
    }

    private void MakeFolder()
    {
        if (OperatingSystem.IsWindows()) Directory.CreateDirectory(_folder);
        else Directory.CreateDirectory(
            _folder, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
    }

    [GeneratedRegex("^[0-9]{8}-[0-9]{6}-[0-9a-f]{12}$", RegexOptions.NonBacktracking)]
    private static partial Regex Id();
}
