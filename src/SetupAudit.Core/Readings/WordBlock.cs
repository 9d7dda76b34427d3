using System.Runtime.CompilerServices;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>The words of one block of a dump, in their order. Filled anew for each block; allocates nothing.</summary>
internal struct WordBlock
{
    private const int LetterCount = 26;

    private Numbers _numbers;
    private Columns _columns;
    private Letters _order;
    private uint _present;
    private Marks _marks;
    private char _last;

    /// <summary>What G and M words and the block delete say; in one word, so that clearing is cheap.</summary>
    [Flags]
    private enum Marks
    {
        None = 0,
        Conditional = 1,
        G10 = 2,
        G11 = 4,
        Inch = 8,
        Millimetre = 16,
        Absolute = 32,
        Incremental = 64,
        OtherGOrM = 128,
        EndsProgram = 256,
        Odd = 512,
    }

    public int Count { get; private set; }

    /// <summary>The block stands after a block delete.</summary>
    public readonly bool Conditional => Is(Marks.Conditional);

    public readonly bool HasG10 => Is(Marks.G10);

    public readonly bool HasG11 => Is(Marks.G11);

    public readonly bool HasInch => Is(Marks.Inch);

    public readonly bool HasMillimetre => Is(Marks.Millimetre);

    public readonly bool HasAbsolute => Is(Marks.Absolute);

    public readonly bool HasIncremental => Is(Marks.Incremental);

    /// <summary>A G word that is not G10, or an M word: such a block does not go on with an entry.</summary>
    public readonly bool HasOtherGOrM => Is(Marks.OtherGOrM);

    /// <summary>M2 or M30.</summary>
    public readonly bool EndsProgram => Is(Marks.EndsProgram);

    /// <summary>Something in the block may stand in the way of taking its words at their face.</summary>
    public readonly bool IsOdd => Is(Marks.Odd) || (HasInch && HasMillimetre) || (HasAbsolute && HasIncremental);

    /// <summary>The first word that stands twice, and its column; 0 where none does.</summary>
    public (char Letter, int Column) Repeated { get; private set; }

    /// <summary>The first word whose value is not a plain number, and its column; 0 where none is.</summary>
    public (char Letter, int Column) WorkedOut { get; private set; }

    /// <summary>The first word behind a comma, and its column; 0 where none is. Only moves have such words.</summary>
    public (char Letter, int Column) AfterComma { get; private set; }

    public void Clear()
    {
        if (Is(Marks.Odd)) Repeated = WorkedOut = AfterComma = default;
        _present = 0;
        Count = 0;
        _marks = Marks.None;
    }

    public void MakeConditional() => _marks |= Marks.Conditional;

    public readonly bool Has(char letter) => (_present & Bit(letter)) != 0;

    public readonly NumberText Number(char letter) => _numbers[letter - 'A'];

    public readonly int Column(char letter) => _columns[letter - 'A'];

    /// <summary>The letter of the word at a place, G and M words left out.</summary>
    public readonly char LetterAt(int index) => (char)_order[index];

    public void Add(in WordScanner word)
    {
        if (word.AfterComma)
        {
            MarkComma(word.Letter, word.Column);
            return;
        }
        var letter = word.Letter == ':' ? 'O' : word.Letter;
        _last = letter;
        if (!word.IsNumber) MarkWorkedOut(letter, word.Column);
        if (letter == 'G') AddG(word.IsNumber ? Tenths(word.Number) : -1);
        else if (letter == 'M') AddM(word.IsNumber ? Tenths(word.Number) : -1);
        else if (Has(letter)) MarkRepeated(letter, word.Column);
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
        var place = letter - 'A';
        _numbers[place] = number;
        _columns[place] = column;
        _order[Count] = (byte)letter;
        _present |= 1u << place;
        Count++;
        if (letter == 'E' || !number.FitsMachine) _marks |= Marks.Odd;
    }

    private void MarkWorkedOut(char letter, int column)
    {
        _marks |= Marks.Odd;
        if (WorkedOut.Column == 0) WorkedOut = (letter, column);
    }

    // ",R2." is a corner radius of a move and no R of the block.
    private void MarkComma(char letter, int column)
    {
        _marks |= Marks.Odd;
        if (AfterComma.Column == 0) AfterComma = (letter, column);
    }

    private void MarkRepeated(char letter, int column)
    {
        _marks |= Marks.Odd;
        if (Repeated.Column == 0) Repeated = (letter, column);
    }

    private void AddG(int tenths) => _marks |= tenths switch
    {
        100 => Marks.G10,
        110 => Marks.OtherGOrM | Marks.G11,
        200 => Marks.OtherGOrM | Marks.Inch,
        210 => Marks.OtherGOrM | Marks.Millimetre,
        900 => Marks.OtherGOrM | Marks.Absolute,
        910 => Marks.OtherGOrM | Marks.Incremental,
        _ => Marks.OtherGOrM,
    };

    private void AddM(int tenths) =>
        _marks |= tenths is 20 or 300 ? Marks.OtherGOrM | Marks.EndsProgram : Marks.OtherGOrM;

    private readonly bool Is(Marks mark) => (_marks & mark) != 0;

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
