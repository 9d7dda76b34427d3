namespace SetupAudit.Shares;

/// <summary>
/// Walks a watched folder, one folder a listing, and shows every entry that the glob means under its name below the
/// watched folder. A listing that broke off is told, never taken for the whole.
/// </summary>
internal sealed class FolderListing
{
    /// <summary>Folders nest no deeper than this.</summary>
    public const int MostFolders = 32;

    private const int LongestName = 4096;
    private readonly IShareFiles _files;
    private readonly string _root;
    private readonly FileGlob _glob;
    private readonly EntryVisitor _seen;
    private readonly EntryVisitor _visit;
    private readonly Queue<string> _folders = new();
    private readonly char[] _name = new char[LongestName];
    private int _prefix;

    public FolderListing(IShareFiles files, string root, FileGlob glob, EntryVisitor seen)
    {
        _files = files;
        _root = root;
        _glob = glob;
        _seen = seen;
        _visit = Visit;
    }

    /// <summary>
    /// Null when everything was listed; else what went wrong first. Goes on with the other folders meanwhile.
    /// </summary>
    public ListingFault? Walk(CancellationToken cancel)
    {
        ListingFault? first = null;
        _folders.Clear();
        _folders.Enqueue("");
        while (_folders.TryDequeue(out var folder))
        {
            cancel.ThrowIfCancellationRequested();
            var fault = ListOne(folder);
            first ??= fault;
            if (fault is { IsShareGone: true }) return fault;
        }

        return first;
    }

    private ListingFault? ListOne(string folder)
    {
        folder.CopyTo(_name);
        _prefix = folder.Length;
        if (_prefix > 0) _name[_prefix++] = '/';
        try
        {
            _files.List(folder.Length == 0 ? _root : Path.Join(_root, folder), _visit);
            return null;
        }
        catch (Exception fault) when (ShareErrors.Expected(fault))
        {
            var where = folder.Length == 0 ? "the folder" : $"the folder {folder} in it";
            var isGone = folder.Length == 0 && ShareErrors.Of(fault) != FileTrouble.Unreadable
                || ShareErrors.Of(fault) == FileTrouble.ShareGone;
            return new ListingFault(ShareErrors.Of(fault) switch
            {
                FileTrouble.Vanished => $"{where} is not there",
                FileTrouble.NoPermission => $"{where} may not be listed: no permission",
                _ => $"{where} could not be listed to its end: {ShareErrors.Words(fault)}",
            }, isGone);
        }
    }

    private void Visit(ReadOnlySpan<char> name, EntryKind kind, FileStamp stamp)
    {
        if (_prefix + name.Length >= LongestName) return;
        name.CopyTo(_name.AsSpan(_prefix));
        var full = _name.AsSpan(0, _prefix + name.Length);
        if (kind == EntryKind.Folder)
        {
            if (_glob.MayHoldMatches(full) && full.Count('/') < MostFolders) _folders.Enqueue(full.ToString());
            if (_glob.LooksLikeFile(full)) _seen(full, kind, stamp);
        }
        else if (_glob.Matches(full))
        {
            _seen(full, kind, stamp);
        }
    }
}
