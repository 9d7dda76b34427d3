namespace SetupAudit.Readings;

/// <summary>
/// The numbered parameters of RS274/NGC (3.2.1) as far as the program itself gives them: one that is not here has a
/// value only the control knows.
/// </summary>
internal sealed class ExpressionParameters
{
    /// <summary>RS274/NGC numbers them up to 5399; larger controls go further (common practice, no source).</summary>
    public const int NumberMost = 99_999;

    /// <summary>
    /// From here on a parameter is shared by all programs; below, each call has its own (common practice).
    /// </summary>
    public const int FirstShared = 100;

    private const int ReadsMost = 64;

    private readonly Dictionary<int, decimal> _known = [];
    private readonly List<int> _reads = [];

    /// <summary>The parameters read since <see cref="BeginReads"/>, each once or more.</summary>
    public IReadOnlyList<int> Reads => _reads;

    /// <summary>More were read than are listed, or one whose number is not known: the value may rest on any.</summary>
    public bool ReadAny { get; private set; }

    public void BeginReads()
    {
        _reads.Clear();
        ReadAny = false;
    }

    /// <summary>The value, and a note that it was asked for; null where the program has not given it.</summary>
    public decimal? Read(int number)
    {
        if (_reads.Count < ReadsMost) _reads.Add(number);
        else ReadAny = true;
        return Peek(number);
    }

    /// <summary>The value, for the control's own use: no note is taken.</summary>
    public decimal? Peek(int number) => _known.TryGetValue(number, out var value) ? value : null;

    /// <summary>Notes that a parameter was read whose number the program does not give.</summary>
    public void NoteUnknownRead() => ReadAny = true;

    /// <summary>Sets a parameter; null where what it becomes is not known.</summary>
    public void Set(int number, decimal? value)
    {
        if (value is { } known) _known[number] = known;
        else _known.Remove(number);
    }

    public void ForgetAll() => _known.Clear();

    /// <summary>Forgets those that another program may have set: all from <see cref="FirstShared"/> on.</summary>
    public void ForgetShared()
    {
        foreach (var number in _known.Keys)
            if (number >= FirstShared) _known.Remove(number);
    }
}
