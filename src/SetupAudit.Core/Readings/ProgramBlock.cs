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

    private readonly ProgramWord[] _words = new ProgramWord[WordsMost];
    private readonly int[] _gCodes = new int[WordsMost];
    private readonly int[] _mCodes = new int[WordsMost];
    private int _wordCount;
    private int _gCount;
    private int _mCount;
    private uint _letters;

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

    /// <summary>The words but G and M, in order.</summary>
    public ReadOnlySpan<ProgramWord> Words => _words.AsSpan(0, _wordCount);

    /// <summary>G codes in tenths, in order: G54.1 is 541.</summary>
    public ReadOnlySpan<int> GCodes => _gCodes.AsSpan(0, _gCount);

    public ReadOnlySpan<int> MCodes => _mCodes.AsSpan(0, _mCount);

    /// <summary>A G code was worked out from parameters.</summary>
    public bool HasReckonedCode { get; private set; }

    /// <summary>Whether it has a G or M word.</summary>
    public bool HasCodes => _gCount + _mCount > 0;

    public bool IsEmpty => _wordCount + _gCount + _mCount + Settings.Count == 0 && Flow == ProgramFlowWord.None;

    public void Begin(int line)
    {
        Line = line;
        IsConditional = IsPercent = HasFault = HasReckonedCode = false;
        Label = GoTo = null;
        Name = Comment = null;
        Flow = ProgramFlowWord.None;
        Settings.Clear();
        _wordCount = _gCount = _mCount = 0;
        _letters = 0;
    }

    /// <summary>Takes a word in; false where the block has more than it can have.</summary>
    public bool Add(ProgramWord word)
    {
        if (_wordCount + _gCount + _mCount >= WordsMost) return false;
        switch (word.Letter)
        {
            case 'G':
                _gCodes[_gCount++] = Tenths(word.Value);
                HasReckonedCode |= word.RestsOnParameters;
                break;
            case 'M':
                _mCodes[_mCount++] = word.Value is null ? UnknownCode : word.Whole ?? NoCode;
                break;
            default:
                _words[_wordCount++] = word;
                _letters |= Bit(word.Letter);
                break;
        }
        return true;
    }

    public bool Has(char letter) => (_letters & Bit(letter)) != 0;

    public bool HasG(int tenths) => GCodes.Contains(tenths);

    public bool HasM(int code) => MCodes.Contains(code);

    public ProgramWord? First(char letter)
    {
        if (!Has(letter)) return null;
        foreach (ref readonly var word in Words)
            if (word.Letter == letter) return word;
        return null;
    }

    public ProgramWord? Last(char letter)
    {
        if (!Has(letter)) return null;
        for (var index = _wordCount - 1; index >= 0; index--)
            if (_words[index].Letter == letter) return _words[index];
        return null;
    }

    /// <summary>Whether a word that the configuration names stands in the block.</summary>
    public bool HasWord(char letter, decimal value)
    {
        if (letter == 'G') return HasG(Tenths(value));
        if (letter == 'M') return value == decimal.Truncate(value) && HasM((int)value);
        if (!Has(letter)) return false;
        foreach (ref readonly var word in Words)
            if (word.Letter == letter && word.Value == value) return true;
        return false;
    }

    private static uint Bit(char letter) => 1u << (letter & 31);

    private static int Tenths(decimal? value)
    {
        const int most = 9999;
        if (value is not { } code) return UnknownCode;
        if (code.Scale == 0 && code is >= 0 and <= most) return (int)code * 10;
        return code is >= 0 and <= most && code * 10 == decimal.Truncate(code * 10) ? (int)(code * 10) : NoCode;
    }
}
