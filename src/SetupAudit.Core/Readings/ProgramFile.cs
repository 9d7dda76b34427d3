using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>
/// The programs of one file: the first, and the sub-programs that may follow it under O numbers of their own. Takes
/// the file line by line and hands each to the program it belongs to.
/// </summary>
internal sealed class ProgramFile(MachineConfig machine, ProgramDigest digest)
{
    public const int SubprogramsMost = 1_000;

    private readonly ProgramFaults _faults = new();
    private readonly ProgramLimits _limits = new();
    private readonly ProgramProbingCalls _probingCalls = new(machine);
    private readonly List<ProgramPart> _ended = [];
    private ProgramBlockReader? _reader;
    private ProgramPart? _first;
    private ProgramPart? _current;
    private byte[] _scratch = [];
    private bool _opened;
    private bool _isOver;

    public ProgramFaults Faults => _faults;

    /// <summary>The program that the next line belongs to.</summary>
    public ProgramRun Run => Current.Run;

    /// <summary>Whether the lines that follow belong to no program.</summary>
    public bool IsOver => _isOver;

    private ProgramPart Current => _current ??= _first = new ProgramPart(NewRun(isFirst: true), 1, _faults.Count);

    /// <summary>Takes a line in, without its end.</summary>
    public void Take(ReadOnlySpan<byte> line, int number)
    {
        if (_scratch.Length <= line.Length) _scratch = new byte[WordScanner.LineMostBytes + 1];
        var blanked = _scratch.AsSpan(0, line.Length);
        line.CopyTo(blanked);
        var comment = ProgramComments.Blank(ref blanked, out var faultColumn, out var reason);
        if (!_isOver)
        {
            if (faultColumn > 0) _faults.Add(number, faultColumn, reason);
            _scratch[blanked.Length] = (byte)'\n';
            if (MayRun(blanked)) Read(_scratch.AsSpan(0, blanked.Length + 1), line, number, comment);
        }
        digest.KeepLine(Strip(blanked, digest.Room(line.Length)));
    }

    /// <summary>Ends the file behind its last line: gives the first program, and the others in their order.</summary>
    /// <param name="lines">How many it has.</param>
    /// <param name="isLastWhole">Whether the last one has its line end.</param>
    public (ProgramPart First, IReadOnlyList<ProgramPart> Others) Finish(int lines, bool isLastWhole)
    {
        var first = _first ?? Current;
        if (_opened && !_isOver && !Run.HasEnded)
        {
            _faults.Add(lines, 1, "the file opened with % and ends here without a closing %: it may be cut off");
            if (!isLastWhole) Run.DoubtLine(lines);
        }
        if (_current is { } last && last != first) End(last, lines);
        first.End(lines, _faults);
        return (first, _ended);
    }

    private void Read(ReadOnlySpan<byte> blanked, ReadOnlySpan<byte> line, int number, Range comment)
    {
        var reader = _reader ??= new ProgramBlockReader(machine, _faults);
        reader.Read(blanked, number, Run);
        var block = reader.Block;
        if (block.IsPercent) TakePercent();
        if (_isOver) return;
        if (block.Name is { } name && !block.Flow.HasFlag(ProgramFlowWord.Call)) TakeName(name, block, number);
        if (Current.Title is null && !comment.Equals(default)) Current.Title = ProgramComments.TextOf(line[comment]);
        if (!block.MCodes.IsEmpty && !comment.Equals(default)) block.Comment = ProgramComments.TextOf(line[comment]);
        Run.Run(block, line);
        if (block.Flow.HasFlag(ProgramFlowWord.SubEnds)) EndSub(number);
    }

    // Behind its end a program goes on only where a jump leads to, or another one begins; the rest may be anything.
    private bool MayRun(ReadOnlySpan<byte> line)
    {
        if (!Run.HasEnded) return true;
        line = line.TrimStart(" \t"u8);
        if (line.IsEmpty) return false;
        var isName = line[0] is (byte)'O' or (byte)'o' or (byte)':';
        if (line[0] == '%' || (isName && line[1..].TrimStart(" \t"u8) is [<= (byte)'<', ..])) return true;
        if (line[0] is not ((byte)'N' or (byte)'n')) return false;
        var at = 1;
        return NumberText.Scan(line, ref at, out var label) == NumberScan.Number && label.TryWhole(out var whole)
            && Run.IsAwaited(whole);
    }

    // The first % opens, and what stands in front of it is leader; one behind the program ends the file.
    private void TakePercent()
    {
        var hasProgram = _ended.Count > 0 || Run.HasBegun || Current.Name is not null;
        _isOver = hasProgram;
        _opened |= !hasProgram;
        if (hasProgram) return;
        _faults.Clear();
        _first = _current = null;
    }

    private void TakeName(string name, ProgramBlock block, int number)
    {
        // O words with IF, WHILE and the like only number their branches.
        if (block.Flow != ProgramFlowWord.None && !block.Flow.HasFlag(ProgramFlowWord.SubBegins)) return;
        if (!Run.HasBegun && Current.Name is null && block.Flow == ProgramFlowWord.None)
        {
            Current.Name = name;
            return;
        }
        if (_ended.Count + (Current == _first ? 0 : 1) >= SubprogramsMost)
        {
            _faults.AddLimit(
                number, 1, $"the file has more than {SubprogramsMost} programs; those from here on are not read");
            _isOver = true;
            return;
        }
        End(Current, number - 1);
        digest.BeginPart();
        _current = new ProgramPart(NewRun(isFirst: false), number, _faults.Count) { Name = name };
    }

    // A dialect of RS274/NGC writes its sub-programs in front of, or within, the program: O100 sub ... O100 endsub.
    private void EndSub(int number)
    {
        if (Current == _first) return;
        End(Current, number);
        _current = _first;
    }

    private void End(ProgramPart part, int lastLine)
    {
        if (part == _first) return;
        part.TextSha256 = digest.EndPart();
        part.End(lastLine, _faults);
        _ended.Add(part);
    }

    private ProgramRun NewRun(bool isFirst) => new(machine, _faults, _limits, _probingCalls, isFirst);

    /// <summary>
    /// Copies a line without blanks and line number, in upper case, and gives how many bytes that is.
    /// </summary>
    private static int Strip(ReadOnlySpan<byte> line, Span<byte> to)
    {
        var kept = 0;
        foreach (var character in line)
        {
            if (character is (byte)' ' or (byte)'\t') continue;
            to[kept++] = character is >= (byte)'a' and <= (byte)'z' ? (byte)(character - 32) : character;
        }
        var start = kept > 0 && to[0] == '/' ? 1 : 0;
        if (start + 1 >= kept || to[start] != 'N' || !IsDigit(to[start + 1])) return kept;
        var end = start + 1;
        while (end < kept && IsDigit(to[end])) end++;
        to[end..kept].CopyTo(to[start..]);
        return kept - (end - start);
    }

    private static bool IsDigit(byte character) => character is >= (byte)'0' and <= (byte)'9';
}
