using System.Security.Cryptography;
using ZstdSharp;

namespace SetupAudit.Store.Segments;

/// <summary>Passes bytes on and hashes them; at the end it throws unless they are the bytes that were kept.</summary>
internal sealed class CheckedStream : Stream
{
    private readonly Stream _bytes;
    private readonly long _length;
    private readonly string _sha256;
    private readonly Func<Exception> _damaged;
    private readonly IncrementalHash _hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    private long _read;
    private bool _checked;

    public CheckedStream(Stream bytes, long length, string sha256, Func<Exception> damaged) =>
        (_bytes, _length, _sha256, _damaged) = (bytes, length, sha256, damaged);

    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length => _length;

    public override long Position
    {
        get => _read;
        set => throw new NotSupportedException();
    }

    public override int Read(Span<byte> buffer)
    {
        if (buffer.Length == 0) return 0;
        var read = ReadOn(buffer);
        _hash.AppendData(buffer[..read]);
        _read += read;
        // With the last byte, not with the read after it: a reader that knows the length may never make that one.
        if (read == 0 || _read >= _length) Check();
        return read;
    }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override void Flush()
    {
    }

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            _bytes.Dispose();
            _hash.Dispose();
        }
        base.Dispose(disposing);
    }

    private int ReadOn(Span<byte> buffer)
    {
        try
        {
            return _bytes.Read(buffer);
        }
        catch (Exception fault) when (fault is ZstdException or EndOfStreamException)
        {
            throw _damaged();
        }
    }

    private void Check()
    {
        if (_checked && _read == _length) return;
        _checked = true;
        if (_read != _length || Convert.ToHexStringLower(_hash.GetCurrentHash()) != _sha256) throw _damaged();
    }
}
