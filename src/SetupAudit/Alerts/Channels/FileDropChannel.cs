using System.Globalization;
using System.Text;
using SetupAudit.Alerts.Letters;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Alerts.Channels;

/// <summary>
/// Puts each message into a folder as a file of its own, whole or not at all, and never in the place of another. The
/// name is made of its time and a digest of its id, so nothing that a share says gets into it.
/// </summary>
internal sealed class FileDropChannel(FileDropConfig config, TimeProvider time) : IAlertChannel
{
    private static readonly TimeSpan Limit = TimeSpan.FromSeconds(30);

    public string Name => "files";

    public string To => config.Folder;

    public Task<SendResult> SendAsync(AlertMessage message, CancellationToken token) =>
        Trying.RunAsync(this, Limit, time, stop => PutAsync(message, stop), token);

    private async Task<SendResult> PutAsync(AlertMessage message, CancellationToken token)
    {
        RequireFolder();
        var name = NameOf(message);
        var path = Path.Combine(config.FullFolder, name);
        if (File.Exists(path)) return new(SendOutcome.Sent, $"{name} was there already, from an earlier try.");
        var draft = Path.Combine(config.FullFolder, $".{name}.part");
        await WriteAsync(draft, BodyOf(message), token);
        // Bytes on disk before the name: who sees the name finds all of it.
        if (!TryName(draft, path)) return new(SendOutcome.Sent, $"{name} was there already, from an earlier try.");
        return new(SendOutcome.Sent, $"Put as {name}.");
    }

    private void RequireFolder()
    {
        if (Directory.Exists(config.FullFolder)) return;
        // Only the last folder is made: where more is missing, a mount or a disk is missing.
        if (!Directory.Exists(Path.GetDirectoryName(config.FullFolder)))
            throw new SendFaultException(SendOutcome.Temporary, $"The folder {config.FullFolder} is not there.");
        Directory.CreateDirectory(config.FullFolder);
    }

    private byte[] BodyOf(AlertMessage message)
    {
        var now = time.GetUtcNow();
        if (!config.IsText) return AlertJson.Document(message, now);
        var letter = LetterWriter.Of(message, now);
        return Encoding.UTF8.GetBytes($"{letter.Subject}\n\n{PlainLetter.Of(letter)}");
    }

    private string NameOf(AlertMessage message) => string.Create(CultureInfo.InvariantCulture,
        $"{message.QueuedUtc.UtcDateTime:yyyyMMdd'T'HHmmss'Z'}-{Word.Of(message.Kind)}-{StableId.Of(message.Id)}")
        + (config.IsText ? ".txt" : ".json");

    private static async Task WriteAsync(string draft, byte[] bytes, CancellationToken token)
    {
        // Of a try that was cut off; a link that someone put in its place goes, and is not followed.
        File.Delete(draft);
        await using var file = new FileStream(draft, FileMode.CreateNew, FileAccess.Write, FileShare.None);
        await file.WriteAsync(bytes, token);
        file.Flush(flushToDisk: true);
    }

    private bool TryName(string draft, string path)
    {
        try
        {
            File.Move(draft, path, overwrite: false);
            // The name too is to be there after a power cut. Some shares cannot promise that; it is there all the same.
            if (!OperatingSystem.IsWindows()) Posix.FlushFolder(config.FullFolder);
            return true;
        }
        catch (IOException) when (File.Exists(path))
        {
            File.Delete(draft);
            return false;
        }
    }
}
