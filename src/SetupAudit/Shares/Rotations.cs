namespace SetupAudit.Shares;

/// <summary>Gathers what was taken of print-outs that may now lie under another name.</summary>
internal sealed class Rotations(IShareFiles files, Trials trials, KnownFiles known)
{
    public IReadOnlyList<Remains> Find(IReadOnlyList<Candidate> listed, Turn turn)
    {
        var changed = listed.Where(one => one.Why == CandidateWhy.Changed)
            .ToDictionary(one => one.Name, StringComparer.Ordinal);
        var remains = new List<Remains>();
        foreach (var file in known.All)
        {
            if (file.Growth is not { } growth) continue;
            var isLeft = file.SeenInScan != turn.Moment.Number
                || (changed.TryGetValue(file.Name, out var candidate) && !GoesOn(candidate, growth, turn.Cancel));
            remains.Add(new Remains(file, growth, isLeft, IsFormer: false));
            if (growth.Former is { } former) remains.Add(Former(file, former));
        }

        // What lies under a name now moves with it; of equals it comes first.
        return [.. remains.OrderBy(one => one.IsFormer)];
    }

    private static Remains Former(KnownFile file, FormerText former)
    {
        var growth = new Growth { Mark = former.Mark, Lines = former.Lines };
        var was = file with
        {
            Taken = new FileStamp(former.Mark.OffsetBytes, former.SeenUtc),
            Growth = growth,
        };
        return new Remains(was, growth, IsLeft: true, IsFormer: true);
    }

    private bool GoesOn(Candidate candidate, Growth growth, CancellationToken cancel)
    {
        if (candidate.Kind != EntryKind.File) return false;
        try
        {
            using var file = files.Open(trials.PathOf(candidate));
            return new GrowingFile(file, trials.Limits, cancel)
                .Continue(growth.Mark, file.Stat().SizeBytes, whole: false) is not null;
        }
        catch (Exception fault) when (ShareErrors.Expected(fault))
        {
            // Whoever comes to read it tells; here it only is not known to go on.
            return false;
        }
    }
}
