using System.Runtime.CompilerServices;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>The words of one block of a dump, in the order they stand. Filled anew for each block; allocates nothing.</summary>
internal struct WordBlock
{
    private const int LetterCount = 26;

    private Numbers _numbers;
    private Columns _columns;
    private Letters _order;
    private uint _present;
    private char _last;

    public int Count { get; private set; }

    /// <summary>The block stands after a block delete.</summary>
    public bool Conditional { get; set; }

    public bool HasG10 { get; private set; }

    public bool HasG11 { get; private set; }

    public bool HasInch { get; private set; }

    public bool HasMillimetre { get; private set; }

    public bool HasAbsolute { get; private set; }

    public bool HasIncremental { get; private set; }

    /// <summary>A G word that is not G10, or an M word: such a block does not go on with a data entry begun before.</summary>
    public bool HasOtherGOrM { get; private set; }

    /// <summary>M2 or M30.</summary>
    public bool EndsProgram { get; private set; }

    /// <summary>The first word that stands twice, and its column; 0 where none does.</summary>
    public (char Letter, int Column) Repeated { get; private set; }

    /// <summary>The first word whose value is not a plain number, and its column; 0 where none is.</summary>
    public (char Letter, int Column) WorkedOut { get; private set; }

    public void Clear()
    {
        _present = 0;
        Count = 0;
        Conditional = HasG10 = HasG11 = HasInch = HasMillimetre = HasAbsolute = HasIncremental = false;
        HasOtherGOrM = EndsProgram = false;
        Repeated = WorkedOut = default;
    }

    public readonly bool Has(char letter) => (_present & Bit(letter)) != 0;

    public readonly NumberText Number(char letter) => _numbers[letter - 'A'];

    public readonly int Column(char letter) => _columns[letter - 'A'];

    /// <summary>The letter of the word at a place, G and M words left out.</summary>
    public readonly char LetterAt(int index) => (char)_order[index];

    public void Add(in WordScanner word)
    {
        // ",R2." is a corner radius of a move and no R of the block.
        if (word.AfterComma) return;
        var letter = word.Letter == ':' ? 'O' : word.Letter;
        _last = letter;
        if (!word.IsNumber && WorkedOut.Column == 0) WorkedOut = (letter, word.Column);
        if (letter == 'G') AddG(word.IsNumber ? Tenths(word.Number) : -1);
        else if (letter == 'M') AddM(word.IsNumber ? Tenths(word.Number) : -1);
        else if (Has(letter)) Repeated = Repeated.Column == 0 ? (letter, word.Column) : Repeated;
        else Keep(letter, word.Number, word.Column);
    }

    /// <summary>Takes back the last word, whose digits the file's end may have cut.</summary>
    public void RemoveLast()
    {
        if (Count == 0 || _last != LetterAt(Count - 1)) return;
        _present &= ~Bit(_last);
        Count--;
    }

    private void Keep(char letter, NumberText number, int column)
    {
        _numbers[letter - 'A'] = number;
        _columns[letter - 'A'] = column;
        _order[Count] = (byte)letter;
        _present |= Bit(letter);
        Count++;
    }

    private void AddG(int tenths)
    {
        switch (tenths)
        {
            case 100:
                HasG10 = true;
                return;
            case 110:
                HasG11 = true;
                break;
            case 200:
                HasInch = true;
                break;
            case 210:
                HasMillimetre = true;
                break;
            case 900:
                HasAbsolute = true;
                break;
            case 910:
                HasIncremental = true;
                break;
        }
        HasOtherGOrM = true;
    }

    private void AddM(int tenths)
    {
        HasOtherGOrM = true;
        EndsProgram |= tenths is 20 or 300;
    }

    // G codes may have one place, as G54.1 has.
    private static int Tenths(NumberText number)
    {
        const int most = 9999;
        if (number.TryWhole(out var whole)) return whole is >= 0 and <= most ? whole * 10 : -1;
        var tenths = number.Value * 10;
        return tenths is > 0 and < most * 10 && decimal.Truncate(tenths) == tenths ? (int)tenths : -1;
    }

    private static uint Bit(char letter) => 1u << (letter - 'A');

    [InlineArray(LetterCount)]
    private struct Numbers
    {
        private NumberText _first;
    }

    [InlineArray(LetterCount)]
    private struct Columns
    {
        private int _first;
    }

    [InlineArray(LetterCount)]
    private struct Letters
    {
        private byte _first;
    }
}
