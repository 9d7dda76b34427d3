namespace SetupAudit.Store.Verifying;

/// <summary>The beginning of a file that may be growing, as a stream that only reads forward.</summary>
internal sealed class FirstBytes(string path, long length) : Stream
{
    private readonly FileStream _file = File.Open(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
    private long _left = length;

    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length => throw new NotSupportedException();

    public override long Position
    {
        get => throw new NotSupportedException();
        set => throw new NotSupportedException();
    }

    public override int Read(Span<byte> buffer)
    {
        var read = _file.Read(buffer[..(int)Math.Min(buffer.Length, _left)]);
        _left -= read;
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
        if (disposing) _file.Dispose();
        base.Dispose(disposing);
    }
}
