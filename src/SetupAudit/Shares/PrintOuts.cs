namespace SetupAudit.Shares;

/// <summary>
/// Takes print-outs: of a file that grows what was appended, of one that was rewritten all, of one that was rotated
/// what was not yet taken under its old name.
/// </summary>
internal sealed class PrintOuts(IShareFiles files, Trials trials, KnownFiles known)
{
    private readonly Rotations _rotations = new(files, trials, known);

    /// <summary>First those that go on where they were, then those whose beginning must be looked for.</summary>
    public IEnumerable<Taking> Take(IReadOnlyList<Candidate> due, IReadOnlyList<Candidate> listed, Turn turn)
    {
        var others = new List<Candidate>();
        foreach (var one in due)
        {
            var taking = trials.NoFile(one, turn.Moment) ?? Try(one, turn, file => GoOn(file, one, turn));
            if (taking is not null) yield return taking;
            else others.Add(one);
        }

        if (others.Count == 0) yield break;
        var remains = _rotations.Find(listed, turn);
        foreach (var one in others)
            yield return Try(one, turn, file => StartOrMove(file, one, remains, turn)) ?? new Taking(one);
    }

    private Taking? GoOn(IShareFile file, Candidate candidate, Turn turn)
    {
        // Any file begins with no bytes: where nothing was taken yet, it may be another that was rotated to this name.
        if (candidate.Known?.Growth is not { OffsetBytes: > 0 } growth) return null;
        var stamp = file.Stat();
        var isWhole = candidate.IsRecheck || turn.Moment.StartedUtc >= candidate.Known.DueUtc;
        var growing = new GrowingFile(file, trials.Limits, turn.Cancel);
        return growing.Continue(growth.Mark, stamp.SizeBytes, isWhole) is { } hash
            ? Next(growing, new Look(candidate, candidate.Known, growth, stamp, isWhole), hash, turn)
            : null;
    }

    private Taking StartOrMove(IShareFile file, Candidate candidate, IReadOnlyList<Remains> remains, Turn turn)
    {
        var stamp = file.Stat();
        var growing = new GrowingFile(file, trials.Limits, turn.Cancel);
        var may = remains.Where(one => one.MayBe(candidate.Name, stamp)).ToList();
        var longest = growing.LongestOf([.. may.Select(one => one.Growth.Mark)]);
        if (longest >= 0
            && growing.Continue(may[longest].Growth.Mark, stamp.SizeBytes, whole: true) is { } hash)
        {
            var was = may[longest];
            var isGone = !was.IsFormer && was.Known.SeenInScan != turn.Moment.Number;
            return Next(growing, new Look(candidate, was.Known, was.Growth, stamp, IsWhole: true), hash, turn) with
            {
                Released = isGone ? was.Known.Name : null,
            };
        }

        var growth = candidate.Known?.Growth is { OffsetBytes: 0 } none ? none : Growth.None;
        var start = new Look(candidate, candidate.Known, growth, stamp, IsWhole: true);
        return Next(growing, start, new PrefixHash(), turn);
    }

    private Taking? Try(Candidate candidate, Turn turn, Func<IShareFile, Taking?> take)
    {
        try
        {
            using var file = files.Open(trials.PathOf(candidate));
            return trials.TooLarge(candidate, file.Stat(), turn.Moment) ?? take(file);
        }
        catch (Exception fault) when (ShareErrors.Expected(fault))
        {
            return trials.Failed(candidate, turn.WaitingOf(candidate), turn.Moment, fault);
        }
    }

    private Taking Next(GrowingFile growing, Look look, PrefixHash hash, Turn turn)
    {
        var (moment, waiting) = (turn.Moment, turn.WaitingOf(look.Candidate));
        var unfinished = trials.Limits.UnfinishedLine;
        var isTailDue = waiting.Listed.SizeBytes == look.Stamp.SizeBytes
            && (moment.Since(waiting.Since) >= unfinished || moment.IsOld(look.Stamp, unfinished));
        if (growing.Next(look.Growth, hash, look.Stamp, isTailDue) is not { } piece)
        {
            trials.Torn++;
            return new Taking(look.Candidate);
        }

        trials.Worked(waiting, moment);
        var lastSeenUtc = look.Before?.Taken?.ModifiedUtc;
        var sinceUtc = look.Growth.HasTail ? look.Growth.BeforeUtc : lastSeenUtc;
        return new Taking(look.Candidate)
        {
            Next = new KnownFile
            {
                Name = look.Candidate.Name,
                Kind = EntryKind.File,
                SeenInScan = moment.Number,
                Listed = look.Candidate.Listed,
                Taken = look.Stamp,
                ReadUtc = look.IsWhole ? moment.StartedUtc : look.Before?.ReadUtc ?? moment.StartedUtc,
                Growth = Keep(look, piece.After with
                {
                    BeforeUtc = piece.Range is null && look.Growth.HasTail ? look.Growth.BeforeUtc : lastSeenUtc,
                }),
            },
            Found = piece.Range is null ? null : Found(look, piece, piece.Range, sinceUtc),
            Spool = piece.Range?.Spool,
        };
    }

    private FoundFile Found(Look look, Piece piece, ByteRange range, DateTime? sinceUtc)
    {
        return new FoundFile(trials.Opening(look.Candidate, files, range, piece.OffsetBytes, piece.LengthBytes))
        {
            Source = trials.Source,
            Name = look.Candidate.Name,
            SizeBytes = piece.LengthBytes,
            ModifiedUtc = look.Stamp.ModifiedUtc,
            Sha256 = range.Sha256.ToString(),
            Bytes = range.Memory,
            OffsetBytes = piece.OffsetBytes,
            FirstLine = piece.FirstLine,
            PreviousUtc = sinceUtc is { } utc ? new DateTimeOffset(utc) : null,
        };
    }

    // What lay under this name before may be seen under another name only in a later listing.
    private static Growth Keep(Look look, Growth growth) =>
        look.Candidate.Known is { Taken: { } seen, Growth: { OffsetBytes: > 0 } was } && was.Mark != look.Growth.Mark
            ? growth with { Former = new FormerText(was.Mark, was.Lines, seen.ModifiedUtc) }
            : growth;

    /// <param name="Before">What was known of these bytes, perhaps under another name.</param>
    private sealed record Look(Candidate Candidate, KnownFile? Before, Growth Growth, FileStamp Stamp, bool IsWhole);
}
