using System.Buffers.Text;
using System.Data.Common;
using System.Security.Cryptography;
using System.Text;

namespace SetupAudit.Store.Records;

/// <summary>
/// The SHA-256 over rows as the database gives them back. A value is written as a netstring (its length in bytes as a
/// decimal number, a colon, its UTF-8 bytes, a comma), null as a tilde, and each row ends with a line feed; so no two
/// different rows are written alike.
/// </summary>
internal sealed class RowDigest(Stream? copy = null) : IDisposable
{
    private readonly IncrementalHash _hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    private byte[] _bytes = new byte[4096];
    private int _filled;

    /// <summary>How many rows were added.</summary>
    public long Rows { get; private set; }

    /// <summary>Adds the row that a reader stands on, from a column on.</summary>
    public void Add(DbDataReader row, int firstColumn)
    {
        for (var column = firstColumn; column < row.FieldCount; column++)
        {
            if (row.IsDBNull(column)) Put("~"u8);
            else if (row.GetFieldType(column) == typeof(long)) Add(row.GetInt64(column));
            else Add(row.GetString(column));
        }
        Put("\n"u8);
        _hash.AppendData(_bytes, 0, _filled);
        copy?.Write(_bytes, 0, _filled);
        _filled = 0;
        Rows++;
    }

    /// <summary>The digest of all that was added, in hexadecimal; what is added next begins a new one.</summary>
    public string End()
    {
        Rows = 0;
        return Convert.ToHexStringLower(_hash.GetHashAndReset());
    }

    public void Dispose() => _hash.Dispose();

    private void Add(long number)
    {
        Span<byte> digits = stackalloc byte[20];
        Utf8Formatter.TryFormat(number, digits, out var length);
        Put(digits[..length], length);
    }

    private void Add(string text)
    {
        var length = Encoding.UTF8.GetByteCount(text);
        PutLength(length);
        Room(length + 1);
        _filled += Encoding.UTF8.GetBytes(text, _bytes.AsSpan(_filled));
        _bytes[_filled++] = (byte)',';
    }

    private void Put(ReadOnlySpan<byte> value, int length)
    {
        PutLength(length);
        Put(value);
        Put(","u8);
    }

    private void PutLength(int length)
    {
        Span<byte> digits = stackalloc byte[11];
        Utf8Formatter.TryFormat(length, digits, out var written);
        Put(digits[..written]);
        Put(":"u8);
    }

    private void Put(ReadOnlySpan<byte> bytes)
    {
        Room(bytes.Length);
        bytes.CopyTo(_bytes.AsSpan(_filled));
        _filled += bytes.Length;
    }

    private void Room(int more)
    {
        if (_bytes.Length - _filled < more) Array.Resize(ref _bytes, Math.Max(_bytes.Length * 2, _filled + more));
    }
}
