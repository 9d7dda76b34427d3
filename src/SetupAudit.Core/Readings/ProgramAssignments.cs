namespace SetupAudit.Readings;

/// <summary>
/// Which parameters were set since a stretch of a program began: a loop, a branch, a jump or the whole.
/// </summary>
internal sealed class ProgramAssignments
{
    // A program that sets more different ones is taken to have set all: hostile text must not fill the memory.
    private const int ListedMost = 20_000;

    private readonly HashSet<int> _numbers = [];

    /// <summary>Any may have been set: by a called program, or under a number that is not known.</summary>
    public bool IsAll { get; private set; }

    /// <summary>Those that any program may set, from 100 on, may have been set.</summary>
    public bool IsAllShared { get; private set; }

    public bool IsEmpty => _numbers.Count == 0 && !IsAll && !IsAllShared;

    public IEnumerable<int> Numbers => _numbers;

    public bool Has(int number) =>
        IsAll || (IsAllShared && number >= ExpressionParameters.FirstShared) || _numbers.Contains(number);

    public void Add(int number)
    {
        if (_numbers.Count < ListedMost) _numbers.Add(number);
        else IsAll = true;
    }

    public void AddAll() => IsAll = true;

    public void AddAllShared() => IsAllShared = true;
}
