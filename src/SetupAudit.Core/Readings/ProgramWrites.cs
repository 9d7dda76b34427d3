namespace SetupAudit.Readings;

/// <summary>
/// Gathers the offsets that a program sets, and takes a value back where another way through the program doubts it.
/// </summary>
internal sealed class ProgramWrites(ProgramFaults faults, ProgramLimits limits)
{
    private readonly List<Draft> _drafts = [];
    private bool _isFull;

    public int Count => _drafts.Count;

    public void Add(ProgramWrite write, ProgramReads? reads, bool placeRests)
    {
        if (limits.TakeWrite())
        {
            _drafts.Add(new Draft(write, reads, placeRests));
            return;
        }
        if (!_isFull)
            faults.AddLimit(write.Line, 1,
                $"the file sets more than {ProgramLimits.WritesMost} offsets; those from here on are not listed");
        _isFull = true;
    }

    /// <summary>
    /// From a place in the list on, what was worked out from these parameters may have been another value.
    /// </summary>
    public void Doubt(int from, ProgramAssignments assigned)
    {
        for (var index = from; index < _drafts.Count; index++)
        {
            var (write, reads, placeRests) = _drafts[index];
            if (reads is null || !reads.RestOn(assigned)) continue;
            var target = placeRests ? ProgramWriteTarget.Unknown : write.Target;
            _drafts[index] = new Draft(write with { Value = null, Target = target }, reads, placeRests);
        }
    }

    /// <summary>The line may be cut within a number: what it says is not known.</summary>
    public void DoubtLine(int line)
    {
        for (var index = _drafts.Count - 1; index >= 0 && _drafts[index].Write.Line >= line; index--)
            _drafts[index] = _drafts[index] with { Write = _drafts[index].Write with { Value = null } };
    }

    public IReadOnlyList<ProgramWrite> List() => [.. _drafts.Select(draft => draft.Write)];

    /// <param name="PlaceRests">Which register or tool it is was worked out from parameters too.</param>
    private sealed record Draft(ProgramWrite Write, ProgramReads? Reads, bool PlaceRests);
}
