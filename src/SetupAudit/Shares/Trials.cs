using System.Globalization;

namespace SetupAudit.Shares;

/// <summary>
/// What trying a document and trying a print-out have in common: refusals, failures, and when they count.
/// </summary>
internal sealed class Trials(ShareSource source, ScanLimits limits)
{
    /// <summary>A file that will not hold still, or will not be read, is given this long.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    /// <summary>For how long a mount may show a size and time that are no longer so.</summary>
    public static readonly TimeSpan AttributesHeld = TimeSpan.FromSeconds(1.1);

    /// <summary>
    /// A file alone in not being read: it is the file. Where nothing else is read either, it may well be the share, and
    /// a share's fault is no file's: some mounts go on listing from memory long after their server has died.
    /// </summary>
    public static readonly TimeSpan PatienceWithShare = TimeSpan.FromMinutes(10);

    private const int FewTries = 2;
    private const int ManyTries = 3;
    private static readonly Serilog.ILogger Log = Serilog.Log.ForContext<FolderScan>();
    private long? _workedAt;

    public ShareSource Source => source;

    public ScanLimits Limits => limits;

    /// <summary>
    /// Whether the size and time of an open file are those of this moment. Where they may be a second old, they cannot
    /// tell that a file was written while it was read.
    /// </summary>
    public bool IsTruthful { get; set; } = true;

    public TimeSpan Settle => source.Watch.Settle;

    /// <summary>How many reads were in vain in this scan: the file changed, or ended before its size.</summary>
    public int Torn { get; set; }

    public string PathOf(Candidate candidate) => Path.Join(source.Watch.FullFolder, candidate.Name);

    /// <summary>How bytes too many for memory are read once more: where they were spooled, else on the share.</summary>
    public Func<Stream> Opening(Candidate candidate, IShareFiles files, ByteRange range, long offset, long length)
    {
        var path = PathOf(candidate);
        return range.Spool is { } spool
            ? () => new ShareStream(path, spool.Open, 0, length, range.Sha256)
            : () => new ShareStream(path, () => files.Open(path), offset, length, range.Sha256);
    }

    /// <summary>For what is no file at all, however it is read; null for a file.</summary>
    public Taking? NoFile(Candidate candidate, ScanMoment moment) => candidate.Kind switch
    {
        EntryKind.Link => Refuse(candidate, moment, "a link, not followed"),
        EntryKind.Folder => Refuse(candidate, moment, "a folder where a file was expected"),
        _ => null,
    };

    public Taking? TooLarge(Candidate candidate, FileStamp stamp, ScanMoment moment) =>
        stamp.SizeBytes <= limits.MaxFileBytes
            ? null
            : Refuse(candidate, moment, string.Create(CultureInfo.InvariantCulture,
                $"the file has {stamp.SizeBytes} bytes, more than the {limits.MaxFileBytes} that are taken"));

    /// <summary>A file could be read: failures of it are counted anew, and the share gives files.</summary>
    public void Worked(Waiting waiting, ScanMoment moment)
    {
        waiting.Worked();
        _workedAt = moment.Time.GetTimestamp();
    }

    /// <summary>A failure to read: tried again, and refused when it was tried often and long enough.</summary>
    public Taking Failed(Candidate candidate, Waiting waiting, ScanMoment moment, Exception fault)
    {
        var trouble = ShareErrors.Of(fault);
        var words = ShareErrors.Words(fault);
        if (trouble == FileTrouble.ShareGone)
            return new Taking(candidate) { ShareFault = $"the share is gone: {words}" };
        Log.Debug(fault, "Could not read {File} of {Source}, it is tried again", candidate.Name, source);
        var refuse = trouble == FileTrouble.NoPermission
            ? waiting.FailedFor(trouble, FewTries, Settle, moment)
            : waiting.FailedFor(trouble, ManyTries, Patience, moment) && IsItsOwn(trouble, waiting, moment);
        return refuse ? Refuse(candidate, moment, Reason(trouble, words)) : new Taking(candidate);
    }

    /// <summary>Told once: the same refusal again only moves the time of the next try.</summary>
    public Taking Refuse(Candidate candidate, ScanMoment moment, string reason)
    {
        var known = candidate.Known ?? new KnownFile
        {
            Name = candidate.Name,
            Kind = candidate.Kind,
            Listed = candidate.Listed,
        };
        var isTold = known.Refused == reason && (candidate.IsRecheck || candidate.Kind != EntryKind.File);
        return new Taking(candidate)
        {
            Next = known with
            {
                Kind = candidate.Kind,
                Listed = candidate.Listed,
                Refused = reason,
                ReadUtc = moment.StartedUtc,
                MissingUtc = null,
                SeenInScan = moment.Number,
                DueUtc = default,
            },
            Found = isTold ? null : new FoundFile
            {
                Source = source,
                Name = candidate.Name,
                SizeBytes = candidate.Listed.SizeBytes,
                ModifiedUtc = candidate.Listed.ModifiedUtc,
                Sha256 = "",
                Refused = reason,
            },
        };
    }

    private bool IsItsOwn(FileTrouble trouble, Waiting waiting, ScanMoment moment) =>
        trouble is FileTrouble.Vanished or FileTrouble.NoFile
        || (_workedAt is { } worked && waiting.TroubleBefore(worked))
        || waiting.TroubleFor(PatienceWithShare, moment);

    private static string Reason(FileTrouble trouble, string words) => trouble switch
    {
        FileTrouble.NoPermission => "no permission to read the file",
        FileTrouble.Vanished => "the file is listed, but cannot be opened: it is not there",
        _ => $"the file could not be read: {words}",
    };
}
