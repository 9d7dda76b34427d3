using SetupAudit.Shop;

namespace SetupAudit.Alerts.Channels;

/// <summary>Reads a secret when it is needed, and keeps it out of what is said afterwards.</summary>
internal static class SecretText
{
    private const long BytesMost = 64 * 1024;

    /// <summary>The lines of the secret that are not empty, as they stand; at least one.</summary>
    public static async Task<IReadOnlyList<string>> LinesAsync(SecretSource source, CancellationToken token)
    {
        var text = source.File is { } file ? await ReadAsync(file, token) : FromVariable(source.Variable ?? "");
        string[] lines = [.. text.Split('\n').Select(line => line.TrimEnd('\r')).Where(line => line.Length > 0)];
        return lines.Length > 0 ? lines : throw Fault($"{Place(source)} is empty; it should hold the secret.");
    }

    /// <summary>The text without the secret, nor the forms in which mail servers are sent it.</summary>
    public static string Hide(string text, string? user, string? secret)
    {
        if (string.IsNullOrEmpty(secret)) return text;
        foreach (var form in (string[])[secret, Base64(secret), Base64($"\0{user}\0{secret}")])
            text = text.Replace(form, "(secret)", StringComparison.Ordinal);
        return text;
    }

    public static string Place(SecretSource source) =>
        source.File ?? $"The environment variable {source.Variable}";

    private static async Task<string> ReadAsync(string file, CancellationToken token)
    {
        try
        {
            if (new FileInfo(file) is { Exists: true, Length: > BytesMost })
                throw Fault($"{file} is too large to be a secret.");
            return await File.ReadAllTextAsync(file, token);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw Fault($"The secret cannot be read: {Trying.Reason(fault.Message)}", fault);
        }
    }

    private static string FromVariable(string name) => Environment.GetEnvironmentVariable(name)
        ?? throw Fault($"The environment variable {name} is not set; it should hold the secret.");

    private static string Base64(string text) => Convert.ToBase64String(System.Text.Encoding.UTF8.GetBytes(text));

    // Files are put right while the service runs; the next try reads it anew.
    private static SendFaultException Fault(string message, Exception? inner = null) =>
        new(SendOutcome.Temporary, message, inner);
}
