using System.Security.Cryptography;

namespace SetupAudit.Readings;

/// <summary>
/// The two hashes of a program while it streams by: of its bytes, and of its text without comments, blanks and line
/// numbers. A sub-program in the same file gets a third, over its own text.
/// </summary>
internal sealed class ProgramDigest : IDisposable
{
    // A call into the hash costs as much as hashing a hundred bytes; lines are gathered first.
    private const int GatheredBytes = 128 * 1024;

    private readonly IncrementalHash _file = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    private readonly IncrementalHash _text = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    private readonly byte[] _gathered = new byte[GatheredBytes];
    private IncrementalHash? _part;
    private int _length;

    public void AddFile(ReadOnlySpan<byte> bytes) => _file.AppendData(bytes);

    /// <summary>Room for at least so many bytes of text; <see cref="KeepLine"/> takes them in.</summary>
    public Span<byte> Room(int least)
    {
        if (GatheredBytes - _length < least) Flush();
        return _gathered.AsSpan(_length);
    }

    /// <summary>Takes in what was written to the room, as one line; nothing where nothing was written.</summary>
    public void KeepLine(int length)
    {
        if (length == 0) return;
        _length += length;
        AddByte((byte)'\n');
    }

    /// <summary>Takes in text as it is, however long.</summary>
    public void Add(ReadOnlySpan<byte> text)
    {
        if (text.Length > GatheredBytes - _length) Flush();
        if (text.Length > GatheredBytes)
        {
            Append(text);
            return;
        }
        text.CopyTo(_gathered.AsSpan(_length));
        _length += text.Length;
    }

    public void AddByte(byte character)
    {
        if (_length == GatheredBytes) Flush();
        _gathered[_length++] = character;
    }

    /// <summary>Begins the text of a sub-program, and gives the hash of the one before it, if any.</summary>
    public string? BeginPart()
    {
        Flush();
        var before = EndPart();
        _part = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        return before;
    }

    /// <summary>Ends the text of a sub-program and gives its hash; null where none was begun.</summary>
    public string? EndPart()
    {
        if (_part is null) return null;
        Flush();
        var hash = Hex(_part);
        _part.Dispose();
        _part = null;
        return hash;
    }

    public string FileSha256() => Hex(_file);

    public string TextSha256()
    {
        Flush();
        return Hex(_text);
    }

    public void Dispose()
    {
        _file.Dispose();
        _text.Dispose();
        _part?.Dispose();
    }

    private void Flush()
    {
        if (_length > 0) Append(_gathered.AsSpan(0, _length));
        _length = 0;
    }

    private void Append(ReadOnlySpan<byte> text)
    {
        _text.AppendData(text);
        _part?.AppendData(text);
    }

    private static string Hex(IncrementalHash hash) => Convert.ToHexStringLower(hash.GetHashAndReset());
}
