using Microsoft.Win32.SafeHandles;

namespace SetupAudit.Store.Segments;

/// <summary>The stored bytes of one blob as a stream that only reads forward. It owns the file handle.</summary>
internal sealed class SegmentSlice(SafeFileHandle file, long position, long length) : Stream
{
    private long _read;

    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length => length;

    public override long Position
    {
        get => _read;
        set => throw new NotSupportedException();
    }

    public override int Read(Span<byte> buffer)
    {
        var wanted = (int)Math.Min(buffer.Length, length - _read);
        if (wanted == 0) return 0;
        var read = RandomAccess.Read(file, buffer[..wanted], position + _read);
        _read += read;
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
        if (disposing) file.Dispose();
        base.Dispose(disposing);
    }
}
