using System.Buffers;

namespace SetupAudit.Shop.Configuration;

/// <summary>A watched folder may be a path, or an address of SFTP; its host key is a fingerprint of SHA-256.</summary>
internal static class SftpAddress
{
    private const string Scheme = "sftp";
    private const int UsualPort = 22;
    private const string KeyPrefix = "SHA256:";
    private const int KeyLength = 43;

    private static readonly SearchValues<char> Base64 = SearchValues.Create(
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/");

    public static TypedShape<string> Folder { get; } = new(
        "a path, relative to this file's folder or full, or an address such as sftp://user@host:22/folder", ReadFolder);

    public static TypedShape<string> HostKey { get; } = new(
        "a fingerprint such as ssh-keygen -l shows: SHA256:...", ReadHostKey);

    /// <summary>Whether a folder is written as an address of SFTP, however faulty.</summary>
    public static bool IsMeant(string folder) =>
        folder.StartsWith(Scheme + "://", StringComparison.OrdinalIgnoreCase);

    /// <summary>User, host, port and folder; null where the address lacks one, or holds a password.</summary>
    public static (string User, string Host, int Port, string Path)? Parse(string folder)
    {
        if (!IsMeant(folder) || !Uri.TryCreate(folder, UriKind.Absolute, out var uri)) return null;
        if (uri.UserInfo.Length == 0 || uri.UserInfo.Contains(':') || uri.Host.Length == 0) return null;
        if (uri.Query.Length > 0 || uri.Fragment.Length > 0) return null;
        var path = Uri.UnescapeDataString(uri.AbsolutePath).TrimEnd('/');
        return (Uri.UnescapeDataString(uri.UserInfo), uri.IdnHost, uri.Port > 0 ? uri.Port : UsualPort,
            path.Length == 0 ? "/" : path);
    }

    private static bool ReadFolder(ConfigNode node, out string value)
    {
        value = node.Text;
        return Values.Path.Accepts(node) && (!IsMeant(value) || Parse(value) is not null);
    }

    private static bool ReadHostKey(ConfigNode node, out string value)
    {
        value = node.Text;
        return Values.Text.Accepts(node) && value.StartsWith(KeyPrefix, StringComparison.Ordinal)
            && value.Length == KeyPrefix.Length + KeyLength
            && !value.AsSpan(KeyPrefix.Length).ContainsAnyExcept(Base64);
    }
}
