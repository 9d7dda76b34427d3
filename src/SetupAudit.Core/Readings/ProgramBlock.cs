namespace SetupAudit.Readings;

/// <summary>One block of a program: its words with their values, filled anew for each line.</summary>
internal sealed class ProgramBlock
{
    /// <summary>A G or M code that the program does not give: it may be any.</summary>
    public const int UnknownCode = -1;

    // A number that is no code of any control, such as G54.25.
    private const int NoCode = -2;

    /// <summary>RS274/NGC has 26 letters and lets G and M repeat; a line with more words is no block.</summary>
    public const int WordsMost = 128;

    private readonly List<ProgramWord> _words = [];
    private readonly List<int> _gCodes = [];
    private readonly List<int> _mCodes = [];

    public int Line { get; private set; }

    /// <summary>The block stands after a block delete.</summary>
    public bool IsConditional { get; set; }

    public bool IsPercent { get; set; }

    /// <summary>Something on the line could not be read; what stands behind it is not known.</summary>
    public bool HasFault { get; set; }

    /// <summary>The N number; null where there is none.</summary>
    public int? Label { get; set; }

    /// <summary>What follows the letter O or a colon; null where the block has neither.</summary>
    public string? Name { get; set; }

    public ProgramFlowWord Flow { get; set; }

    /// <summary>Of a GOTO: where to; null where the program does not give it.</summary>
    public int? GoTo { get; set; }

    /// <summary>A comment stands on the line: some controls call a program by the name in it (M98 (POCKET)).</summary>
    public string? Comment { get; set; }

    public List<ProgramSetting> Settings { get; } = [];

    public IReadOnlyList<ProgramWord> Words => _words;

    /// <summary>G codes in tenths, in order: G54.1 is 541.</summary>
    public IReadOnlyList<int> GCodes => _gCodes;

    public IReadOnlyList<int> MCodes => _mCodes;

    public bool IsEmpty => _words.Count == 0 && _gCodes.Count == 0 && _mCodes.Count == 0 && Settings.Count == 0
        && Flow == ProgramFlowWord.None;

    public void Begin(int line)
    {
        Line = line;
        IsConditional = IsPercent = HasFault = false;
        Label = GoTo = null;
        Name = Comment = null;
        Flow = ProgramFlowWord.None;
        Settings.Clear();
        _words.Clear();
        _gCodes.Clear();
        _mCodes.Clear();
    }

    /// <summary>Takes a word in; false where the block has more than it can have.</summary>
    public bool Add(ProgramWord word)
    {
        if (_words.Count + _gCodes.Count + _mCodes.Count >= WordsMost) return false;
        switch (word.Letter)
        {
            case 'G':
                _gCodes.Add(Tenths(word.Value));
                break;
            case 'M':
                _mCodes.Add(word.Value is null ? UnknownCode : word.Whole ?? NoCode);
                break;
            default:
                _words.Add(word);
                break;
        }
        return true;
    }

    public bool Has(char letter) => Last(letter) is not null;

    public bool HasG(int tenths) => _gCodes.Contains(tenths);

    public bool HasM(int code) => _mCodes.Contains(code);

    public ProgramWord? First(char letter)
    {
        foreach (var word in _words)
            if (word.Letter == letter) return word;
        return null;
    }

    public ProgramWord? Last(char letter)
    {
        for (var index = _words.Count - 1; index >= 0; index--)
            if (_words[index].Letter == letter) return _words[index];
        return null;
    }

    /// <summary>Whether a G or M word that the configuration names stands in the block.</summary>
    public bool HasCode(char letter, decimal value) => letter switch
    {
        'G' => _gCodes.Contains(Tenths(value)),
        'M' => _mCodes.Exists(code => code == value),
        _ => _words.Exists(word => word.Letter == letter && word.Value == value),
    };

    private static int Tenths(decimal? value)
    {
        const int most = 9999;
        if (value is not { } code) return UnknownCode;
        return code is >= 0 and <= most && code * 10 == decimal.Truncate(code * 10) ? (int)(code * 10) : NoCode;
    }
}
