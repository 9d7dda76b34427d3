using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using Serilog;
using SetupAudit.Store;

namespace SetupAudit.People;

/// <summary>
/// A folder in the store, its owner's alone, through which acts reach the process that holds the store. An act is
/// written beside, flushed and renamed, so that it is there whole or not at all; it goes when its answer is there.
/// </summary>
public sealed partial class Inbox(string storeFolder)
{
    private const string Asked = ".act";
    private const string Answered = ".answer";
    private const int LargestBytes = 64 * 1024;
    private const int AtOnce = 100;

    private static readonly TimeSpan KeptFor = TimeSpan.FromDays(1);

    private readonly string _folder = Path.Combine(storeFolder, "inbox");

    public static string NewId(DateTimeOffset nowUtc) => string.Create(CultureInfo.InvariantCulture,
        $"{nowUtc.UtcDateTime:yyyyMMdd-HHmmss}-{RandomNumberGenerator.GetHexString(12, lowercase: true)}");

    /// <summary>Hands an act over; when this returns it is on disk.</summary>
    public void Put(Act act) => Write(act.Id + Asked, PeopleText.Of(act));

    /// <summary>The answer to an act, which is taken away with it; null while there is none.</summary>
    public ActAnswer? Answer(string id)
    {
        var path = Path.Combine(_folder, id + Answered);
        if (!File.Exists(path) || Read(path) is not { } text) return null;
        var answer = PeopleText.Read<ActAnswer>(text);
        File.Delete(path);
        return answer;
    }

    /// <summary>What waits to be taken in, oldest first; what is no act is set aside.</summary>
    public IReadOnlyList<Act> Waiting()
    {
        var acts = new List<Act>();
        if (!Directory.Exists(_folder)) return acts;
        foreach (var path in Directory.EnumerateFiles(_folder, "*" + Asked).Order(StringComparer.Ordinal).Take(AtOnce))
        {
            if (Parsed(path) is { } act) acts.Add(act);
            else SetAside(path);
        }
        return acts;
    }

    /// <summary>Answers an act; only then is it taken away.</summary>
    public void Say(ActAnswer answer)
    {
        Write(answer.Id + Answered, PeopleText.Of(answer));
        File.Delete(Path.Combine(_folder, answer.Id + Asked));
    }

    /// <summary>Takes answers away that nobody came for, and what was never finished.</summary>
    public void Tidy(DateTimeOffset nowUtc)
    {
        if (!Directory.Exists(_folder)) return;
        foreach (var file in new DirectoryInfo(_folder).EnumerateFiles())
            if (file.Extension != Asked && nowUtc - file.LastWriteTimeUtc > KeptFor) file.Delete();
    }

    private static Act? Parsed(string path)
    {
        try
        {
            var name = Path.GetFileNameWithoutExtension(path);
            var act = Read(path) is { } text ? PeopleText.Read<Act>(text) : null;
            return act is not null && act.Id == name && Name().IsMatch(name) ? act : null;
        }
        catch (JsonException fault)
        {
            Log.Debug(fault, "What lies in the inbox as {File} is no act", path);
            return null;
        }
    }

    private static void SetAside(string path)
    {
        Log.Warning("Set {File} in the inbox aside: it is no act that could be taken in", path);
        File.Move(path, path + ".refused", overwrite: true);
    }

    // No link is followed and nothing large is read: whoever can write here could otherwise make the service read it.
    private static string? Read(string path)
    {
        var file = new FileInfo(path);
        if (!file.Exists || file.LinkTarget is not null || file.Length > LargestBytes) return null;
        return File.ReadAllText(path, Encoding.UTF8);
    }

    private void Write(string name, string text)
    {
        MakeFolder();
        var path = Path.Combine(_folder, name);
        var part = $"{path}.{RandomNumberGenerator.GetHexString(8, lowercase: true)}.part";
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        using (var file = new FileStream(part, options))
        {
            file.Write(Encoding.UTF8.GetBytes(text));
            file.Flush(flushToDisk: true);
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
    private static partial Regex Name();
}
