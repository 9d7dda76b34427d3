namespace SetupAudit.Readings;

/// <summary>
/// Keeps what a program's parameters hold while blocks may be jumped over, repeated or left to a condition. A program
/// is read once, from top to bottom; what another way through it would change becomes unknown, never guessed.
/// </summary>
internal sealed class ProgramFlow(ExpressionParameters parameters)
{
    private const int NestingMost = 64;
    private const int LabelsMost = 256;

    private readonly List<Stretch> _open = [];
    private readonly ProgramAssignments _whole = new();
    private readonly HashSet<int> _awaited = [];
    private ProgramAssignments? _jumped;
    private bool _isLost;

    /// <summary>
    /// A loop was closed, or a jump led back: what rests on these, from that place in the lists on, is doubtful.
    /// </summary>
    public Action<ProgramMark, ProgramAssignments> OnDoubt { get; init; } = (_, _) => { };

    public ExpressionParameters Parameters => parameters;

    /// <summary>Whether the block in hand may be jumped over.</summary>
    public bool IsConditional => _open.Count > 0 || _jumped is not null || _isLost;

    /// <summary>Whether the block in hand may run more than once, as far as is known yet.</summary>
    public bool IsInLoop => _isLost || _open.Exists(stretch => stretch.IsLoop);

    /// <summary>Whether another way than the one being read leads past the block in hand.</summary>
    public bool IsForked => _isLost || _jumped is not null || _open.Exists(stretch => !stretch.IsLoop);

    /// <summary>Whether a jump ahead waits for its label: the program goes on there, even behind its end.</summary>
    public bool AwaitsLabel => _awaited.Count > 0;

    public bool Awaits(int label) => _awaited.Contains(label);

    /// <summary>Sets a parameter; where that is not sure to happen, what it holds afterwards is not known.</summary>
    public void Assign(int number, decimal? value, bool isConditional)
    {
        _whole.Add(number);
        _jumped?.Add(number);
        foreach (var stretch in _open) stretch.Assigned.Add(number);
        parameters.Set(number, isConditional || _isLost ? null : value);
    }

    /// <summary>Any parameter may have been set.</summary>
    public void ForgetAll()
    {
        foreach (var assigned in Listening()) assigned.AddAll();
        parameters.ForgetAll();
    }

    /// <summary>A called program may have set any parameter that programs share.</summary>
    public void ForgetShared()
    {
        foreach (var assigned in Listening()) assigned.AddAllShared();
        parameters.ForgetShared();
    }

    public void BeginLoop(ProgramMark mark) => Begin(mark, isLoop: true);

    public void BeginBranch(ProgramMark mark) => Begin(mark, isLoop: false);

    /// <summary>Ends the innermost loop or branch: what was set in it is not known behind it.</summary>
    public void End()
    {
        if (_open.Count == 0) return;
        var stretch = _open[^1];
        _open.RemoveAt(_open.Count - 1);
        Forget(stretch.Assigned);
        if (stretch.IsLoop) OnDoubt(stretch.Mark, stretch.Assigned);
    }

    /// <summary>A jump; null where the program does not give where to.</summary>
    public void Jump(int? label)
    {
        _jumped ??= new ProgramAssignments();
        if (label is { } known && _awaited.Count < LabelsMost) _awaited.Add(known);
        else _isLost = true;
    }

    /// <summary>
    /// A block with that N number; true where a jump leads to it, so that nothing is sure of what came before.
    /// </summary>
    public bool Arrive(int label)
    {
        if (_jumped is null || !_awaited.Remove(label)) return false;
        Forget(_jumped);
        // What was forgotten need not be forgotten again at the next label.
        _jumped = _awaited.Count > 0 || _isLost ? new ProgramAssignments() : null;
        return true;
    }

    /// <summary>
    /// The end of the program. A label that never came lies before its jump: the blocks between ran more than once.
    /// </summary>
    /// <returns>Whether any blocks may have run more than once that were not known to.</returns>
    public bool Finish()
    {
        while (_open.Count > 0) End();
        var isDoubtful = _awaited.Count > 0 || _isLost;
        if (isDoubtful) OnDoubt(default, _whole);
        return isDoubtful;
    }

    private void Begin(ProgramMark mark, bool isLoop)
    {
        if (_open.Count < NestingMost) _open.Add(new Stretch(mark, isLoop, new ProgramAssignments()));
        else _isLost = true;
    }

    private void Forget(ProgramAssignments assigned)
    {
        if (assigned.IsAll) parameters.ForgetAll();
        if (assigned.IsAllShared) parameters.ForgetShared();
        foreach (var number in assigned.Numbers) parameters.Set(number, null);
    }

    private IEnumerable<ProgramAssignments> Listening()
    {
        yield return _whole;
        if (_jumped is not null) yield return _jumped;
        foreach (var stretch in _open) yield return stretch.Assigned;
    }

    private sealed record Stretch(ProgramMark Mark, bool IsLoop, ProgramAssignments Assigned);
}
