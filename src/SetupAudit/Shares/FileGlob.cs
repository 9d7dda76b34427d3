using SetupAudit.Shop;

namespace SetupAudit.Shares;

/// <summary>
/// The glob of a watched folder over the names below it: <see cref="Glob"/>, without regard to case as on the shares
/// that controls write to. Without a slash it means the folder itself.
/// </summary>
internal sealed class FileGlob
{
    private const string AnyFolders = "**";
    private readonly string _pattern;
    private readonly string[] _parts;

    public FileGlob(string pattern)
    {
        _pattern = pattern.Replace('\\', '/').TrimStart('/');
        _parts = _pattern.Split('/');
    }

    /// <summary>Whether a file of this name below the folder (forward slashes) is watched.</summary>
    public bool Matches(ReadOnlySpan<char> name) => Glob.Matches(_pattern, name, ignoreCase: true);

    /// <summary>Whether anything in a folder of this name could be watched.</summary>
    public bool MayHoldMatches(ReadOnlySpan<char> folder)
    {
        foreach (var part in _parts.AsSpan(0, _parts.Length - 1))
        {
            if (part == AnyFolders) return true;
            var slash = folder.IndexOf('/');
            if (!Glob.Matches(part, slash < 0 ? folder : folder[..slash], ignoreCase: true)) return false;
            if (slash < 0) return true;
            folder = folder[(slash + 1)..];
        }

        return _parts[^1] == AnyFolders;
    }

    /// <summary>Whether a folder of this name looks like a watched file. Not where the glob takes any name.</summary>
    public bool LooksLikeFile(ReadOnlySpan<char> folder) =>
        _parts[^1].AsSpan().ContainsAnyExcept('*', '?') && Matches(folder);
}
