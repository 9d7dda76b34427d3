namespace SetupAudit.Shares;

/// <summary>
/// Lists the folder and lays the listing beside what is known. An unchanged file costs a look-up and no memory; what
/// may have to be read comes out as candidates. What a whole listing does not show is noted, and long after forgotten.
/// </summary>
internal sealed class FolderSight
{
    private readonly ShareSource _source;
    private readonly IShareFiles _files;
    private readonly KnownFiles _known;
    private readonly FolderListing _listing;
    private readonly List<Candidate> _candidates = [];
    private readonly HashSet<string> _new = new(StringComparer.Ordinal);
    private readonly List<KnownFile> _returned = [];
    private int _scan;
    private int _knownSeen;
    private DateTime _nowUtc;
    private bool _isMountNoted;
    private bool _isOtherMount;

    public FolderSight(ShareSource source, IShareFiles files, KnownFiles known)
    {
        _source = source;
        _files = files;
        _known = known;
        _listing = new FolderListing(files, source.Watch.FullFolder, new FileGlob(source.Watch.Files), See);
    }

    public IReadOnlyList<Candidate> Candidates => _candidates;

    /// <summary>Whether the mount shows sizes and times as they are now.</summary>
    public bool IsTruthful { get; private set; } = true;

    /// <summary>How many entries the listing showed that the glob means.</summary>
    public int Files { get; private set; }

    public ListingFault? List(int scan, DateTime nowUtc, CancellationToken cancel)
    {
        (_scan, _nowUtc, _knownSeen, Files) = (scan, nowUtc, 0, 0);
        _isOtherMount = false;
        _candidates.Clear();
        _returned.Clear();
        _new.Clear();
        _known.BeginListing();
        return _listing.Walk(cancel) ?? FindMount();
    }

    /// <summary>
    /// After a whole listing: what came back, what went missing, what was forgotten, what only changed case.
    /// </summary>
    public void NoteAbsences(ScanOutbox outbox)
    {
        foreach (var known in _returned) outbox.Remember(known with { MissingUtc = null, Misses = 0 });
        if (_knownSeen == _known.Count) return;
        var missing = new List<KnownFile>();
        var forgotten = new List<string>();
        foreach (var known in _known.All)
        {
            if (known.SeenInScan == _scan) continue;
            known.Misses = _isOtherMount ? 1 : known.Misses + 1;
            if (known.MissingUtc is not { } since || _isOtherMount) missing.Add(known);
            else if (_nowUtc - since >= KnownFiles.ForgetAfter && known.Misses >= KnownFiles.LeastMisses)
                forgotten.Add(known.Name);
        }

        forgotten.ForEach(outbox.Forget);
        if (missing.Count > 0) FollowCase(missing, outbox);
        foreach (var known in missing) outbox.Remember(known with { MissingUtc = _nowUtc, Misses = known.Misses });
    }

    /// <summary>Lets go of the room that many new files took.</summary>
    public void LetGo()
    {
        _candidates.TrimExcess();
        _returned.TrimExcess();
        _new.TrimExcess();
    }

    private void See(ReadOnlySpan<char> name, EntryKind kind, FileStamp stamp)
    {
        var known = _known.Find(name);
        if (known is not null)
        {
            // A listing of a share may show a name twice when the folder changes meanwhile.
            if (known.SeenInScan == _scan) return;
            known.SeenInScan = _scan;
            _knownSeen++;
            if (known.MissingUtc is not null) _returned.Add(known);
        }

        Files++;

        if (known is null)
            AddNew(name.ToString(), kind, stamp);
        else if (known.Kind != kind || (known.Listed != stamp && kind == EntryKind.File))
            _candidates.Add(new Candidate(known.Name, kind, stamp, known, CandidateWhy.Changed));
        else if (_nowUtc >= known.DueUtc || _nowUtc < known.ReadUtc - KnownFiles.ForgetAfter)
            _candidates.Add(new Candidate(known.Name, kind, stamp, known, CandidateWhy.Recheck));
        else if (known.Growth is { HasTail: true })
            _candidates.Add(new Candidate(known.Name, kind, stamp, known, CandidateWhy.Tail));
    }

    private void AddNew(string name, EntryKind kind, FileStamp stamp)
    {
        if (_new.Add(name)) _candidates.Add(new Candidate(name, kind, stamp, null, CandidateWhy.Changed));
    }

    /// <summary>
    /// A name that only changed case, or how its accents are written, with the same size and time, is the same
    /// document. A print-out may have grown meanwhile: then it is read on where it was left, if it still begins so.
    /// </summary>
    private void FollowCase(List<KnownFile> missing, ScanOutbox outbox)
    {
        if (!_candidates.Exists(one => one.Known is null)) return;
        var byName = missing.ToLookup(one => one.Name.Normalize(), StringComparer.OrdinalIgnoreCase);
        for (var at = _candidates.Count - 1; at >= 0; at--)
        {
            var candidate = _candidates[at];
            if (candidate.Known is not null) continue;
            var was = byName[candidate.Name.Normalize()].FirstOrDefault(one => one.Kind == candidate.Kind
                && (one.Listed == candidate.Listed || one.Growth is not null) && missing.Contains(one));
            if (was is null) continue;
            missing.Remove(was);
            outbox.Forget(was.Name);
            var now = was with { Name = candidate.Name, SeenInScan = _scan };
            outbox.Remember(now);
            if (was.Listed == candidate.Listed) _candidates.RemoveAt(at);
            else _candidates[at] = candidate with { Known = now };
        }
    }

    /// <summary>
    /// An unmounted share leaves an empty folder. Where all files went at once, the mount they were seen on must be
    /// there; where some did, it is looked whether another file system has come in its place.
    /// </summary>
    private ListingFault? FindMount()
    {
        var isMissed = _knownSeen < _known.Count
            && _known.All.Any(one => one.SeenInScan != _scan && one.MissingUtc is null);
        var isEmptied = Files == 0 && isMissed;
        if (_isMountNoted && !isMissed) return null;
        if (Files == 0 && !isEmptied) return null;
        try
        {
            return CompareMount(_files.Mount(_source.Watch.FullFolder), isEmptied);
        }
        catch (Exception fault) when (ShareErrors.Expected(fault))
        {
            return new ListingFault($"the folder does not tell where it lies: {ShareErrors.Words(fault)}", true);
        }
    }

    private ListingFault? CompareMount(string? mount, bool isEmptied)
    {
        if (isEmptied)
        {
            return _known.Mount is not { } was || mount == was
                ? null
                : new ListingFault($"the folder is empty, and what was mounted there is gone ({was})", true);
        }

        _isMountNoted = true;
        IsTruthful = MountTable.IsTruthful(mount, _source.Watch.FullFolder);
        // What the other mount did not show is no word on what this one does not.
        _isOtherMount = mount != _known.Mount && _known.Mount is not null;
        if (mount != _known.Mount) _known.NoteMount(mount);
        return null;
    }
}
