using System.Security.Cryptography;

namespace SetupAudit.Shares;

/// <summary>
/// Reads a stretch of a file once more, from start to end, and proves at the end that it gave the same bytes as before.
/// Whatever goes wrong is a <see cref="FileChangedException"/>: the file is simply tried again.
/// </summary>
internal sealed class ShareStream : Stream
{
    private readonly IShareFile _file;
    private readonly IncrementalHash _hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    private readonly string _name;
    private readonly long _offset;
    private readonly Digest _expected;
    private long _done;
    private bool _proved;

    public ShareStream(string name, Func<IShareFile> open, long offset, long length, Digest expected)
    {
        _name = name;
        _offset = offset;
        _expected = expected;
        Length = length;
        try
        {
            _file = open();
        }
        catch (Exception fault) when (ShareErrors.Expected(fault))
        {
            throw Changed(ShareErrors.Words(fault), fault);
        }
    }

    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length { get; }

    public override long Position
    {
        get => _done;
        set => throw new NotSupportedException();
    }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override int Read(Span<byte> buffer)
    {
        buffer = buffer[..(int)Math.Min(buffer.Length, Length - _done)];
        if (buffer.IsEmpty)
        {
            if (_done == Length) Prove();
            return 0;
        }

        var read = ReadFile(buffer);
        if (read <= 0) throw Changed("it became shorter", null);
        _hash.AppendData(buffer[..read]);
        _done += read;
        // Proved with the last byte, for a reader that counts bytes and never asks for the end.
        if (_done == Length) Prove();
        return read;
    }

    // Never on another thread: the bytes are on the local disk, or their share is waited for in any case.
    public override ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
    {
        cancellationToken.ThrowIfCancellationRequested();
        return ValueTask.FromResult(Read(buffer.Span));
    }

    public override Task<int> ReadAsync(byte[] buffer, int offset, int count, CancellationToken cancellationToken) =>
        ReadAsync(buffer.AsMemory(offset, count), cancellationToken).AsTask();

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
            _file.Dispose();
            _hash.Dispose();
        }

        base.Dispose(disposing);
    }

    private int ReadFile(Span<byte> buffer)
    {
        try
        {
            return _file.Read(buffer, _offset + _done);
        }
        catch (Exception fault) when (ShareErrors.Expected(fault))
        {
            throw Changed(ShareErrors.Words(fault), fault);
        }
    }

    private void Prove()
    {
        if (_proved) return;
        if (Digest.End(_hash) != _expected) throw Changed("its bytes are others", null);
        _proved = true;
    }

    private FileChangedException Changed(string how, Exception? fault)
    {
        var message = $"{_name} is not what it was when it was first read: {how}";
        return fault is null ? new FileChangedException(message) : new FileChangedException(message, fault);
    }
}
