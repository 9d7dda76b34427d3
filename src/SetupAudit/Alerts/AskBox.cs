using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace SetupAudit.Alerts;

/// <summary>
/// A folder in the store through which a command reaches the process that holds the store. A file is written beside and
/// renamed, so that it is there whole or not at all.
/// </summary>
public sealed class AskBox(string storeFolder)
{
    private const string Asked = ".ask";
    private const string Answered = ".answer";
    private const int LargestBytes = 16 * 1024;
    private const int AtOnce = 100;

    private readonly string _folder = Path.Combine(storeFolder, "asked");

    public static string NewId(DateTimeOffset nowUtc) => string.Create(CultureInfo.InvariantCulture,
        $"{nowUtc.UtcDateTime:yyyyMMdd-HHmmss}-{RandomNumberGenerator.GetHexString(8, lowercase: true)}");

    public void Put(AlertAsk ask) => Write(ask.Id + Asked, JsonSerializer.Serialize(ask));

    /// <summary>Takes back what nobody answered.</summary>
    public void TakeBack(string id) => File.Delete(Path.Combine(_folder, id + Asked));

    /// <summary>The answer, which is taken away with it; null while there is none.</summary>
    public AlertAnswer? Answer(string id)
    {
        var path = Path.Combine(_folder, id + Answered);
        if (Read<AlertAnswer>(path) is not { } answer) return null;
        File.Delete(path);
        return answer;
    }

    /// <summary>What waits to be done, oldest first; what is none of ours is left.</summary>
    public IReadOnlyList<AlertAsk> Waiting() => !Directory.Exists(_folder)
        ? []
        :
        [
            .. Directory.EnumerateFiles(_folder, "*" + Asked).Order(StringComparer.Ordinal).Take(AtOnce)
                .Select(Read<AlertAsk>).OfType<AlertAsk>(),
        ];

    /// <summary>Answers; only then is what was asked taken away.</summary>
    public void Say(AlertAnswer answer)
    {
        Write(answer.Id + Answered, JsonSerializer.Serialize(answer));
        TakeBack(answer.Id);
    }

    private void Write(string name, string text)
    {
        Directory.CreateDirectory(_folder);
        var beside = Path.Combine(_folder, name + ".new");
        File.WriteAllText(beside, text, Encoding.UTF8);
        File.Move(beside, Path.Combine(_folder, name), overwrite: true);
    }

    private static T? Read<T>(string path) where T : class
    {
        try
        {
            var file = new FileInfo(path);
            return file.Exists && file.Length <= LargestBytes
                ? JsonSerializer.Deserialize<T>(File.ReadAllText(path, Encoding.UTF8))
                : null;
        }
        catch (Exception fault) when (fault is JsonException or IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }
}
