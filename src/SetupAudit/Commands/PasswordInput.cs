using System.Text;

namespace SetupAudit.Commands;

/// <summary>Takes passwords from a file, or from a person at a terminal, and shows and keeps them nowhere.</summary>
internal static class PasswordInput
{
    private const int LargestBytes = 4096;

    /// <summary>The file's text without the end of its line.</summary>
    public static string FromFile(string option, string path)
    {
        try
        {
            var file = new FileInfo(path);
            if (!file.Exists) throw new CommandException($"{option}: {path} is not there.");
            if (file.Length > LargestBytes)
                throw new CommandException($"{option}: {path} is too large for a password.");
            var text = new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(File.ReadAllBytes(path));
            var line = text.TrimStart('\uFEFF').TrimEnd('\r', '\n');
            if (line.Length == 0) throw new CommandException($"{option}: {path} is empty.");
            return line.AsSpan().IndexOfAny('\r', '\n') < 0
                ? line
                : throw new CommandException($"{option}: {path} holds more than one line.");
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or DecoderFallbackException)
        {
            throw new CommandException($"{option}: {path} cannot be read: {fault.Message}");
        }
    }

    /// <summary>A password for somebody new, asked for twice where a person types it.</summary>
    public static string New(string option, string? path, Terminal terminal)
    {
        if (path is not null) return FromFile(option, path);
        if (terminal.AskSecret is not { } ask)
            throw new CommandException($"{option} is needed: nobody is at a terminal to type the password.");
        var once = ask("New password: ");
        return once == ask("The same again: ")
            ? once
            : throw new CommandException("The two passwords are not the same; nothing was done.");
    }
}
