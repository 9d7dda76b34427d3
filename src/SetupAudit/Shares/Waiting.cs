namespace SetupAudit.Shares;

/// <summary>A file that is watched until it may be taken. All ages are by our own clock.</summary>
internal sealed class Waiting(FileStamp listed, long now)
{
    private FileStamp? _opened;
    private long _openedSince;
    private Digest? _content;
    private long _contentSince;
    private FileTrouble? _trouble;
    private long _troubleSince;
    private int _tries;

    public FileStamp Listed { get; private set; } = listed;

    /// <summary>Since when the listing has shown this size and time.</summary>
    public long Since { get; private set; } = now;

    /// <summary>Since when it has been changing.</summary>
    public long First { get; private set; } = now;

    public int SeenInScan { get; set; }

    /// <summary>What was pending is taken; only the end of an unfinished line is still watched.</summary>
    public bool IsTail { get; private set; }

    public void Observe(FileStamp listed, ScanMoment moment)
    {
        SeenInScan = moment.Number;
        if (listed == Listed) return;
        Listed = listed;
        Since = moment.ListedAt;
        if (!IsTail) return;
        IsTail = false;
        First = moment.ListedAt;
    }

    public void WatchTail() => IsTail = true;

    /// <summary>
    /// Whether the open file has shown this size and time for that long, where the listing shows others.
    /// </summary>
    public bool OpenedFor(FileStamp opened, TimeSpan age, ScanMoment moment)
    {
        if (_opened == opened) return moment.Since(_openedSince) >= age;
        _opened = opened;
        _openedSince = moment.Time.GetTimestamp();
        return false;
    }

    /// <summary>It was read once and must give the same bytes again.</summary>
    public bool IsReadAgain => _content is not null;

    /// <summary>Whether it gave the same bytes when it was read that long ago.</summary>
    public bool SameContentFor(Digest content, TimeSpan age, ScanMoment moment)
    {
        if (_content == content) return moment.Since(_contentSince) >= age;
        _content = content;
        _contentSince = moment.Time.GetTimestamp();
        return false;
    }

    /// <summary>It could be read: failures are counted anew.</summary>
    public void Worked() => _trouble = null;

    /// <summary>Whether the present failures began before that moment.</summary>
    public bool TroubleBefore(long timestamp) => _trouble is not null && _troubleSince < timestamp;

    public bool TroubleFor(TimeSpan age, ScanMoment moment) =>
        _trouble is not null && moment.Since(_troubleSince) >= age;

    /// <summary>Counts a failed try; true when it was tried often and long enough.</summary>
    public bool FailedFor(FileTrouble trouble, int tries, TimeSpan age, ScanMoment moment)
    {
        if (_trouble != trouble)
        {
            _trouble = trouble;
            _troubleSince = moment.Time.GetTimestamp();
            _tries = 0;
        }

        return ++_tries >= tries && moment.Since(_troubleSince) >= age;
    }
}
