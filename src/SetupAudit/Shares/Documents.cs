namespace SetupAudit.Shares;

/// <summary>
/// Takes files that are documents: each version whole. Open, stat, read all, stat; a version counts when nothing moved
/// meanwhile, and where that proves little, when it gave the same bytes again after Settle.
/// </summary>
internal sealed class Documents(IShareFiles files, Trials trials)
{
    private const int NulTail = 64;

    // The coarsest clock of a file system in use (FAT) ticks every two seconds: within a tick, a second write leaves
    // no trace in the file's time.
    private static readonly TimeSpan CoarsestTick = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan Fresh = TimeSpan.FromMinutes(1);

    public Taking Take(Candidate candidate, Waiting waiting, ScanMoment moment, CancellationToken cancel)
    {
        try
        {
            using var file = files.Open(trials.PathOf(candidate));
            return Look(file, candidate, waiting, moment, cancel);
        }
        catch (Exception fault) when (ShareErrors.Expected(fault))
        {
            return trials.Failed(candidate, waiting, moment, fault);
        }
    }

    private Taking Look(
        IShareFile file, Candidate candidate, Waiting waiting, ScanMoment moment, CancellationToken cancel)
    {
        var waits = new Taking(candidate);
        var before = file.Stat();
        if (trials.TooLarge(candidate, before, moment) is { } refused) return refused;
        // A file that never holds still by its time is judged by its bytes alone, if they are few.
        var isRestless = moment.Since(waiting.First) >= Trials.Patience && before.SizeBytes <= trials.Limits.HeldBytes;
        if (!isRestless && !IsStill(before, candidate, waiting, moment)) return waits;

        // A recheck mostly finds what is known: worth no spool, unless it found something else the last time.
        var isKept = (!candidate.IsRecheck && !MustReadTwice(candidate, before, moment)) || waiting.IsReadAgain;
        if (ByteRange.Read(file, 0, before.SizeBytes, trials.Limits, isKept, visit: null, cancel) is not { } range)
        {
            trials.Torn++;
            return waits;
        }
        Taking? taking = null;
        try
        {
            taking = Judge(file, before, range, isRestless, candidate, waiting, moment);
            return taking ?? waits;
        }
        finally
        {
            if (taking?.Spool is null) range.Spool?.Dispose();
        }
    }

    private Taking? Judge(
        IShareFile file, FileStamp before, ByteRange range, bool isRestless, Candidate candidate, Waiting waiting,
        ScanMoment moment)
    {
        if (ByteRange.Fill(file, new byte[1], before.SizeBytes) > 0) return Torn();
        trials.Worked(waiting, moment);
        var after = file.Stat();
        if (after != before && (!isRestless || after.SizeBytes != before.SizeBytes)) return Torn();

        var isOverwritten = candidate.IsRecheck && candidate.Known is { Taken: not null } known
            && known.Content != range.Sha256;
        if ((isRestless || isOverwritten || EndsInNuls(file, before.SizeBytes))
            && !waiting.SameContentFor(range.Sha256, trials.Settle, moment)) return null;
        if (MustReadTwice(candidate, before, moment) && !IsReadTwice(candidate, before, range, waiting, moment))
            return null;
        return Taken(candidate, waiting, after, range, moment);
    }

    private Taking? Torn()
    {
        trials.Torn++;
        return null;
    }

    private bool MustReadTwice(Candidate candidate, FileStamp before, ScanMoment moment) =>
        !trials.IsTruthful && !moment.IsOld(before, Fresh)
        && !(candidate.IsRecheck && candidate.Known is { Taken: not null });

    // Equal bytes, a second and more apart, were not in the midst of being written the first time.
    private bool IsReadTwice(
        Candidate candidate, FileStamp stamp, ByteRange range, Waiting waiting, ScanMoment moment) =>
        waiting.SameContentFor(range.Sha256, Trials.AttributesHeld, moment)
        && (stamp != candidate.Listed || candidate.IsRecheck || moment.Since(waiting.Since) >= trials.Settle
            || moment.Since(waiting.First) >= Trials.Patience);

    private bool IsStill(FileStamp opened, Candidate candidate, Waiting waiting, ScanMoment moment) =>
        opened == candidate.Listed
        || (candidate.IsRecheck && opened == candidate.Known?.Taken)
        || moment.IsOld(opened, trials.Settle)
        || waiting.OpenedFor(opened, trials.Settle, moment);

    // A server may reserve the whole size when a copy starts: until the bytes come, the end reads as NULs.
    private static bool EndsInNuls(IShareFile file, long size)
    {
        Span<byte> end = stackalloc byte[(int)Math.Min(NulTail, size)];
        return size > 0
            && ByteRange.Fill(file, end, size - end.Length) == end.Length
            && !end.ContainsAnyExcept((byte)0);
    }

    private Taking Taken(
        Candidate candidate, Waiting waiting, FileStamp stamp, ByteRange range, ScanMoment moment)
    {
        var known = candidate.Known;
        var isSame = known?.Taken == stamp && known.Content == range.Sha256;
        var soon = trials.Settle > CoarsestTick ? trials.Settle : CoarsestTick;
        var mayHideAWrite = moment.Since(waiting.Since) < soon && moment.StartedUtc - stamp.ModifiedUtc < Fresh;
        return new Taking(candidate)
        {
            Next = new KnownFile
            {
                Name = candidate.Name,
                Kind = EntryKind.File,
                SeenInScan = moment.Number,
                Listed = candidate.Listed,
                Taken = stamp,
                Content = range.Sha256,
                ReadUtc = moment.StartedUtc,
                DueUtc = mayHideAWrite && !candidate.IsRecheck ? moment.StartedUtc + soon : default,
            },
            Found = isSame ? null : Found(candidate, stamp, range),
            Spool = isSame ? null : range.Spool,
        };
    }

    private FoundFile Found(Candidate candidate, FileStamp stamp, ByteRange range)
    {
        return new FoundFile(trials.Opening(candidate, files, range, 0, stamp.SizeBytes))
        {
            Source = trials.Source,
            Name = candidate.Name,
            SizeBytes = stamp.SizeBytes,
            ModifiedUtc = stamp.ModifiedUtc,
            Sha256 = range.Sha256.ToString(),
            Bytes = range.Memory,
        };
    }
}
