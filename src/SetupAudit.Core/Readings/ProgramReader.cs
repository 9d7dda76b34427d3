using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>
/// Reads a program as its bytes come, in whatever pieces, in memory that does not grow with its size. Does not throw
/// on anything a file can hold: what cannot be read is a fault, and reading goes on behind it.
/// </summary>
public sealed class ProgramReader : IDisposable
{
    // A piece of this size stays in the processor's cache from hashing to reading.
    private const int PieceBytes = 64 * 1024;

    private const byte LineFeed = (byte)'\n';
    private const byte CarriageReturn = (byte)'\r';

    private readonly MachineConfig _machine;
    private readonly string _fileName;
    private readonly DateTimeOffset _modifiedUtc;
    private readonly ProgramBytes _bytes = new();
    private readonly ProgramDigest _digest = new();
    private readonly ProgramFile _file;
    private readonly ProgramPlainLine _plain;
    private readonly byte[] _carried = new byte[WordScanner.LineMostBytes];
    private int _carriedLength;
    private long _fileBytes;
    private int _lines;
    private bool _isLong;
    private bool _afterReturn;
    private bool _isFinished;

    /// <param name="machine">What its numbers mean.</param>
    /// <param name="file">Its path below the share, with forward slashes.</param>
    /// <param name="modifiedUtc">Its time on the share.</param>
    public ProgramReader(MachineConfig machine, string file, DateTimeOffset modifiedUtc)
    {
        (_machine, _fileName, _modifiedUtc) = (machine, file, modifiedUtc);
        _file = new ProgramFile(machine, _digest);
        _plain = new ProgramPlainLine(machine.IsLathe);
    }

    /// <summary>Takes the next bytes of the file.</summary>
    public void Feed(ReadOnlySpan<byte> bytes)
    {
        ObjectDisposedException.ThrowIf(_isFinished, this);
        while (!bytes.IsEmpty)
        {
            var piece = bytes[..Math.Min(PieceBytes, bytes.Length)];
            bytes = bytes[piece.Length..];
            _digest.AddFile(piece);
            _fileBytes += piece.Length;
            ReadText(_bytes.TakeHead(ref piece));
            if (!piece.IsEmpty) ReadText(_bytes.Decode(piece));
        }
    }

    /// <summary>Ends the file and gives what it says; nothing may be fed afterwards.</summary>
    public ProgramText Finish()
    {
        ObjectDisposedException.ThrowIf(_isFinished, this);
        ReadText(_bytes.End());
        var isLastWhole = _carriedLength == 0 && !_isLong;
        if (!isLastWhole) EndLine();
        var (first, others) = _file.Finish(_lines, isLastWhole);
        if (_fileBytes == 0) _file.Faults.Add(0, 0, "the file is empty");
        else if (_lines == 0) _file.Faults.Add(0, 0, "the file holds no text, only filler such as NULs");
        var sha256 = _digest.FileSha256();
        var text = TextOf(first, sha256, _digest.TextSha256()) with
        {
            Lines = _lines,
            Faults = _file.Faults.List(),
            Subprograms = [.. others.Select(part => TextOf(part, sha256, part.TextSha256 ?? sha256))],
        };
        Dispose();
        return text;
    }

    public void Dispose()
    {
        _isFinished = true;
        _digest.Dispose();
    }

    private ProgramText TextOf(ProgramPart part, string sha256, string textSha256) => new()
    {
        Program = part.Name ?? ProgramName.OfFile(_fileName),
        Title = part.Title,
        Units = part.Run.Units,
        Sha256 = sha256,
        WithoutCommentsSha256 = textSha256,
        File = _fileName,
        ModifiedUtc = _modifiedUtc,
        Lines = part.Lines,
        Steps = part.Run.Steps,
        Writes = part.Run.Writes,
        Probing = part.Run.Probing,
        Faults = part.Faults,
        ProbeTool = _machine.ProbeTool,
    };

    private void ReadText(ReadOnlySpan<byte> text)
    {
        if (text.IsEmpty) return;
        if (_afterReturn && text[0] == LineFeed) text = text[1..];
        _afterReturn = false;
        if ((_carriedLength > 0 || _isLong) && !TryEndCarried(ref text)) return;
        var last = text.LastIndexOfAny(LineFeed, CarriageReturn);
        ReadLines(text[..(last + 1)]);
        Carry(text[(last + 1)..]);
    }

    /// <summary>Reads lines that all have their ends.</summary>
    private void ReadLines(ReadOnlySpan<byte> text)
    {
        while (!text.IsEmpty)
        {
            if (!TryPlain(text, out var length))
            {
                length = text.IndexOfAny(LineFeed, CarriageReturn);
                ReadLine(text[..length]);
            }
            text = PassLineEnd(text[length..]);
        }
    }

    private bool TryPlain(ReadOnlySpan<byte> text, out int length)
    {
        length = 0;
        var run = _file.Run;
        if (!run.TakesPlainMoves || _file.IsOver) return false;
        var room = _digest.Room(ProgramPlainLine.LineMostBytes + 1);
        if (!_plain.TryRead(text, room, out length, out var kept)) return false;
        if (_plain.Label >= 0 && run.IsAwaited(_plain.Label)) return false;
        _digest.KeepLine(kept);
        CountLine();
        run.Move(_plain, _lines);
        return true;
    }

    private void ReadLine(ReadOnlySpan<byte> line)
    {
        CountLine();
        if (line.Length <= WordScanner.LineMostBytes) _file.Take(line, _lines);
        else
        {
            TakeLong(line[..WordScanner.LineMostBytes]);
            _digest.Add(line[WordScanner.LineMostBytes..]);
        }
        _plain.LinearIncrement = _file.Run.Modes.ScaledLinearIncrement;
        _plain.AngularIncrement = _file.Run.Modes.ScaledAngularIncrement;
    }

    // What such a line begins with may still be a block; the rest is hashed and passed over, however long it is.
    private void TakeLong(ReadOnlySpan<byte> beginning)
    {
        _file.Faults.Add(
            _lines, beginning.Length + 1, $"the line is longer than {beginning.Length} bytes, which no block is");
        _file.Take(beginning, _lines);
    }

    private ReadOnlySpan<byte> PassLineEnd(ReadOnlySpan<byte> text)
    {
        if (text[0] == LineFeed) return text[1..];
        if (text.Length > 1) return text[1] == LineFeed ? text[2..] : text[1..];
        _afterReturn = true;
        return [];
    }

    private void Carry(ReadOnlySpan<byte> text)
    {
        var room = _carried.Length - _carriedLength;
        if (_isLong)
        {
            _digest.Add(text);
            return;
        }
        text[..Math.Min(room, text.Length)].CopyTo(_carried.AsSpan(_carriedLength));
        _carriedLength += Math.Min(room, text.Length);
        if (text.Length <= room) return;
        CountLine();
        TakeLong(_carried);
        _isLong = true;
        _carriedLength = 0;
        _digest.Add(text[room..]);
    }

    private bool TryEndCarried(ref ReadOnlySpan<byte> text)
    {
        var end = text.IndexOfAny(LineFeed, CarriageReturn);
        Carry(end < 0 ? text : text[..end]);
        if (end < 0) return false;
        EndLine();
        text = PassLineEnd(text[end..]);
        return true;
    }

    // A file of gigabytes may have more lines than are counted.
    private void CountLine()
    {
        if (_lines < int.MaxValue) _lines++;
    }

    private void EndLine()
    {
        if (!_isLong) ReadLine(_carried.AsSpan(0, _carriedLength));
        _isLong = false;
        _carriedLength = 0;
    }
}
