using System.Globalization;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>Reads one line of a program, its comments blanked out, into a block. Does not throw.</summary>
internal sealed class ProgramBlockReader(MachineConfig machine, ProgramFaults faults)
{
    // Words that a dialect of RS274/NGC writes behind the letter O and a number or name.
    private static readonly (string Word, ProgramFlowWord Flow)[] Dialect =
    [
        ("ENDSUB", ProgramFlowWord.SubEnds), ("SUB", ProgramFlowWord.SubBegins), ("CALL", ProgramFlowWord.Call),
        ("ENDIF", ProgramFlowWord.BranchEnds), ("IF", ProgramFlowWord.BranchBegins), ("ELSEIF", ProgramFlowWord.None),
        ("ELSE", ProgramFlowWord.None), ("ENDWHILE", ProgramFlowWord.LoopEnds),
        ("WHILE", ProgramFlowWord.LoopBegins), ("DO", ProgramFlowWord.LoopBegins),
        ("ENDREPEAT", ProgramFlowWord.LoopEnds), ("REPEAT", ProgramFlowWord.LoopBegins),
        ("RETURN", ProgramFlowWord.None), ("BREAK", ProgramFlowWord.None), ("CONTINUE", ProgramFlowWord.None),
    ];

    private ProgramRun? _run;
    private ExpressionParameters _parameters = new();

    public ProgramBlock Block { get; } = new();

    /// <summary>
    /// Fills <see cref="Block"/> with what the line says, worked out by the parameters of that program.
    /// </summary>
    public void Read(ReadOnlySpan<byte> line, int number, ProgramRun run)
    {
        _run = run;
        _parameters = run.Parameters;
        _parameters.BeginReads();
        Block.Begin(number);
        var scanner = new WordScanner(line);
        var behind = 0;
        while (scanner.Read() && scanner.Kind != WordKind.EndOfLine)
        {
            Take(ref scanner, line, behind);
            behind = scanner.End;
            if (Block.HasFault) break;
        }
    }

    private void Take(ref WordScanner scanner, ReadOnlySpan<byte> line, int behind)
    {
        switch (scanner.Kind)
        {
            case WordKind.Word when scanner.Letter is 'O' or ':':
                TakeName(ref scanner, line);
                break;
            case WordKind.Word when !scanner.AfterComma:
                TakeWord(in scanner, line, behind);
                break;
            case WordKind.Setting:
                TakeSetting(in scanner);
                break;
            case WordKind.Keyword:
                TakeKeyword(ref scanner);
                break;
            case WordKind.BlockDelete:
                Block.IsConditional = true;
                break;
            case WordKind.Percent:
                Block.IsPercent = true;
                scanner.SkipLine();
                break;
            case WordKind.Fault:
                TakeFault(in scanner, line, behind);
                break;
        }
    }

    private void TakeWord(in WordScanner scanner, ReadOnlySpan<byte> line, int behind)
    {
        if (scanner.IsNumber)
        {
            // "X1e999" is no X1 with a word E behind it; "Z-10. E1.5" has one, the lead of a thread.
            var followsDigit = scanner.Start > 0 && scanner.Start == behind && IsDigit(line[behind - 1]);
            if (scanner.Letter == 'E' && !scanner.Number.HasPoint && followsDigit)
                Fault(scanner.Column, "a number has an exponent here; controls write none");
            else TakeNumber(in scanner);
            return;
        }
        var value = WorkOut(in scanner, scanner.Value, out _);
        Add(new ProgramWord(scanner.Letter, ExpressionMath.Rounded(value), false, true, scanner.Column));
    }

    private void TakeNumber(in WordScanner scanner)
    {
        var number = scanner.Number;
        if (scanner.Letter == 'N' && Block.IsEmpty && number.TryWhole(out var label))
        {
            Block.Label = label;
            // A jump may lead here: what the block's own values rest on is then not sure any more.
            _run?.Arrive(label);
            return;
        }
        decimal? value = number.Value;
        if (!number.FitsMachine)
        {
            Fault(scanner.Column, string.Create(CultureInfo.InvariantCulture,
                $"{scanner.Letter}{number.Value} is beyond any machine"));
            value = null;
        }
        Add(new ProgramWord(scanner.Letter, value, !number.HasPoint, false, scanner.Column));
    }

    private void Add(ProgramWord word)
    {
        if (!Block.Add(word))
            Fault(word.Column, $"the line has more than {ProgramBlock.WordsMost} words, which no block has");
    }

    private void TakeName(ref WordScanner scanner, ReadOnlySpan<byte> line)
    {
        var name = scanner.Value;
        if (!scanner.IsNumber && (name.IsEmpty || name[0] != '<' || scanner.Letter == ':'))
        {
            Fault(scanner.Column, "a program number is a whole number, such as O2041");
            return;
        }
        var text = scanner.IsNumber
            ? "O" + ProgramComments.TextOf(name)
            : ProgramComments.TextOf(name.Trim("<>"u8)) ?? "";
        Block.Name = ProgramName.Normalise(text.Replace(" ", "", StringComparison.Ordinal));
        TakeDialect(ref scanner, line);
    }

    private void TakeDialect(ref WordScanner scanner, ReadOnlySpan<byte> line)
    {
        var rest = line[scanner.End..].TrimStart(" \t"u8);
        foreach (var (word, flow) in Dialect)
        {
            if (!StartsWith(rest, word)) continue;
            Block.Flow |= flow;
            // RETURN, ELSE and the like change nothing by themselves; the branch they stand in is doubtful already.
            if (flow == ProgramFlowWord.None) Block.Name = null;
            scanner.SkipLine();
            return;
        }
    }

    private void TakeSetting(in WordScanner scanner)
    {
        var target = new ExpressionReader(scanner.Target, _parameters);
        var number = target.ReadNumber();
        if (target.Reason is { } reason)
        {
            Fault(scanner.Column + 1 + target.Position, reason);
            Block.Settings.Add(new ProgramSetting(null, null, false));
            return;
        }
        var value = WorkOut(in scanner, scanner.Value, out _);
        var mayBeDatum = number is null && ProgramDatumNumbers.NamesOne(machine, scanner.Target);
        Block.Settings.Add(new ProgramSetting(number, value, mayBeDatum));
    }

    private decimal? WorkOut(in WordScanner scanner, ReadOnlySpan<byte> text, out bool isFault)
    {
        var reader = new ExpressionReader(text, _parameters);
        var value = reader.ReadAll();
        isFault = reader.Reason is not null;
        // The value is the last part of its token.
        var start = scanner.Column + scanner.End - scanner.Start - text.Length;
        if (reader.Reason is { } reason) Fault(start + reader.Position, reason);
        return value;
    }

    private void TakeKeyword(ref WordScanner scanner)
    {
        var word = scanner.Target;
        if (StartsWith(word, "IF")) Block.Flow |= ProgramFlowWord.If;
        else if (StartsWith(word, "THEN")) Block.Flow |= ProgramFlowWord.Then;
        else if (StartsWith(word, "GOTO")) Block.Flow |= ProgramFlowWord.GoTo;
        else if (StartsWith(word, "END")) Block.Flow |= ProgramFlowWord.LoopEnds;
        else if (StartsWith(word, "DO")) Block.Flow |= ProgramFlowWord.LoopBegins;
        // A print of the program's: nothing on its line concerns a datum.
        else if (!StartsWith(word, "WHILE")) scanner.SkipLine();
        if (scanner.Value.IsEmpty || WordValue.IsPrint(word)) return;
        var value = WorkOut(in scanner, scanner.Value, out _);
        if (StartsWith(word, "GOTO") && value is > 0 and <= int.MaxValue) Block.GoTo = (int)value;
    }

    private void TakeFault(in WordScanner scanner, ReadOnlySpan<byte> line, int behind)
    {
        Fault(scanner.Column, scanner.Reason ?? "this could not be read");
        var token = line[behind..].TrimStart(" \t"u8);
        if (token.IsEmpty) return;
        // The word is listed without its value, so that what it would have set is not passed over.
        var letter = (char)(token[0] & 0xDF);
        var column = line.Length - token.Length + 1;
        if (letter is >= 'A' and <= 'Z') Add(new ProgramWord(letter, null, false, false, column));
        if (line[behind..].Contains((byte)'=')) Block.Settings.Add(new ProgramSetting(null, null, false));
        if (MaySelect(token)) Block.Add(new ProgramWord('G', null, false, false, column));
    }

    // A register may be selected in what was not read: G54 to G59, or a code that is worked out.
    private static bool MaySelect(ReadOnlySpan<byte> unread)
    {
        for (var at = unread.IndexOfAny((byte)'G', (byte)'g'); at >= 0; at = unread.IndexOfAny((byte)'G', (byte)'g'))
        {
            unread = unread[(at + 1)..].TrimStart(" \t"u8);
            if (unread is [(byte)'5' or (byte)'#' or (byte)'[', ..]) return true;
        }
        return false;
    }

    private void Fault(int column, string reason)
    {
        faults.Add(Block.Line, column, reason);
        Block.HasFault = true;
    }

    private static bool StartsWith(ReadOnlySpan<byte> text, string word)
    {
        if (text.Length < word.Length) return false;
        for (var at = 0; at < word.Length; at++)
            if ((text[at] & 0xDF) != word[at]) return false;
        return true;
    }

    private static bool IsDigit(byte character) => character is >= (byte)'0' and <= (byte)'9' or (byte)'.';
}
