namespace SetupAudit.Readings;

/// <summary>
/// Gathers a program's probing moves and calls, and takes distances back where they turn out to be doubtful.
/// </summary>
internal sealed class ProgramProbings(ProgramFaults faults, ProgramLimits limits)
{
    private readonly List<(ProbingMove Move, ProgramReads? Reads)> _drafts = [];
    private bool _isFull;

    public int Count => _drafts.Count;

    public void Add(ProbingMove move, ProgramReads? reads)
    {
        if (limits.TakeProbing())
        {
            _drafts.Add((move, reads));
            return;
        }
        if (!_isFull)
            faults.AddLimit(move.Line, 1,
                $"the file probes more than {ProgramLimits.ProbingsMost} times; what comes from here on is not listed");
        _isFull = true;
    }

    public void Doubt(int from, ProgramAssignments assigned)
    {
        for (var index = from; index < _drafts.Count; index++)
        {
            var (move, reads) = _drafts[index];
            if (reads is not null && reads.RestOn(assigned))
                _drafts[index] = (move with { Search = null, Standoff = null }, reads);
        }
    }

    /// <summary>The line may be cut within a number: what it says is not known.</summary>
    public void DoubtLine(int line)
    {
        for (var index = _drafts.Count - 1; index >= 0 && _drafts[index].Move.Line >= line; index--)
            _drafts[index] = (_drafts[index].Move with { Search = null, Standoff = null }, null);
    }

    public IReadOnlyList<ProbingMove> List() => [.. _drafts.Select(draft => draft.Move)];
}
