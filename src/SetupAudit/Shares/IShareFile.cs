namespace SetupAudit.Shares;

/// <summary>A file on a share, open for reading.</summary>
public interface IShareFile : IDisposable
{
    /// <summary>Size and time as the open handle gives them now.</summary>
    FileStamp Stat();

    /// <summary>Reads at an offset; may give fewer bytes than asked for, 0 at the end.</summary>
    int Read(Span<byte> buffer, long offset);
}
