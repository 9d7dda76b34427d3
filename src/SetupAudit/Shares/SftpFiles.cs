using Renci.SshNet;
using Renci.SshNet.Sftp;
using Serilog;
using SetupAudit.Shop;
using ConnectionInfo = Renci.SshNet.ConnectionInfo;

namespace SetupAudit.Shares;

/// <summary>
/// A folder on a server that speaks SFTP, read only. It belongs to one source: its connection is opened when it is
/// needed, closed at the first fault, and opened anew at the next call. No call waits longer than
/// <see cref="AnswerWithin"/> for an answer.
/// </summary>
internal sealed class SftpFiles(SftpConfig config, TimeSpan? answerWithin = null) : IShareFiles, IDisposable
{
    public static readonly TimeSpan AnswerWithin = TimeSpan.FromSeconds(10);

    private readonly TimeSpan _answerWithin = answerWithin ?? AnswerWithin;
    private SftpClient? _client;
    private string _root = config.Path;
    private string? _distrusted;

    public void List(string folder, EntryVisitor visit)
    {
        ArgumentNullException.ThrowIfNull(visit);
        var entries = Ask(client => client.ListDirectory(RemoteOf(folder)).ToList());
        foreach (var entry in entries)
        {
            if (entry.Name is "." or ".." || entry.Name.Contains('/', StringComparison.Ordinal)) continue;
            var kind = entry.IsSymbolicLink ? EntryKind.Link : entry.IsDirectory ? EntryKind.Folder : EntryKind.File;
            visit(entry.Name, kind, StampOf(entry.Attributes));
        }
    }

    public IShareFile Open(string path)
    {
        var remote = RemoteOf(path);
        return Ask(client =>
        {
            StampOf(client, remote);
            return new SftpFile(this, remote, client.Open(remote, FileMode.Open, FileAccess.Read));
        });
    }

    /// <summary>Unknown: that a server gives another folder shows nowhere.</summary>
    public string? Mount(string folder) => null;

    public void Dispose()
    {
        _client?.Dispose();
        _client = null;
    }

    // Whatever goes wrong with more than one file ends the connection: after it, nobody knows what answers what.
    private T Ask<T>(Func<SftpClient, T> ask)
    {
        try
        {
            return ask(Connected());
        }
        catch (Exception fault) when (SftpErrors.Expected(fault))
        {
            if (!SftpErrors.IsOfFile(fault)) Dispose();
            throw SftpErrors.Of(fault);
        }
    }

    private SftpClient Connected()
    {
        if (_client is { IsConnected: true } open) return open;
        Dispose();
        var secret = Secret();
        var info = new ConnectionInfo(config.Host, config.Port, config.User, secret) { Timeout = _answerWithin };
        var client = new SftpClient(info)
        {
            OperationTimeout = _answerWithin,
            KeepAliveInterval = _answerWithin / 2,
        };
        try
        {
            _distrusted = null;
            client.HostKeyReceived += (_, key) => key.CanTrust = IsTrusted(key.FingerPrintSHA256);
            client.Connect();
            // The folder itself may well be a link; what lies in it may not.
            _root = client.Get(config.Path).FullName;
            return _client = client;
        }
        catch (Exception fault) when (_distrusted is { } shown)
        {
            client.Dispose();
            throw new ShareGoneException($"the server {config.Host} shows the key SHA256:{shown}, not the "
                + $"{config.HostKey} that HostKey trusts: another machine may answer in its place; "
                + "nothing was sent to it", fault);
        }
        catch (Exception)
        {
            client.Dispose();
            throw;
        }
    }

    private bool IsTrusted(string fingerprint)
    {
        if (config.HostKey == "SHA256:" + fingerprint.TrimEnd('=')) return true;
        _distrusted = fingerprint.TrimEnd('=');
        Log.Error("The server {Host} shows the key {Shown}, which is not the one that HostKey trusts",
            config.Host, "SHA256:" + _distrusted);
        return false;
    }

    private AuthenticationMethod Secret()
    {
        if (config.KeyFile is { } key)
            return new PrivateKeyAuthenticationMethod(config.User, new PrivateKeyFile(key));
        if (config.PasswordFile is not { } file)
            throw new ShareGoneException("neither KeyFile nor PasswordFile is set");
        using var reader = new StreamReader(file);
        return new PasswordAuthenticationMethod(config.User, reader.ReadLine() ?? "");
    }

    private string RemoteOf(string path)
    {
        Ask(client => client.IsConnected);
        // The folder as configured stands in front; what follows is a name below it.
        var name = path.Replace('\\', '/')[Math.Min(path.Length, FolderLength)..].TrimStart('/');
        return name.Length == 0 ? _root : $"{_root.TrimEnd('/')}/{name}";
    }

    private int FolderLength => config.FullFolder.Length;

    // The server answers for the place that a path leads to: another one than was asked for was reached by a link.
    private static FileStamp StampOf(SftpClient client, string remote)
    {
        var file = client.Get(remote);
        if (file.FullName != remote || !file.IsRegularFile)
            throw new IOException("it is a link, a pipe or a device, not a file", new NotSupportedException());
        return StampOf(file.Attributes);
    }

    private static FileStamp StampOf(SftpFileAttributes attributes) =>
        new(attributes.Size, attributes.LastWriteTimeUtc);

    private sealed class SftpFile(SftpFiles owner, string remote, SftpFileStream stream) : IShareFile
    {
        public FileStamp Stat() => owner.Ask(client => StampOf(client, remote));

        public int Read(Span<byte> buffer, long offset)
        {
            var wanted = new byte[Math.Min(buffer.Length, ChunkBytes)];
            var read = owner.Ask(_ =>
            {
                if (stream.Position != offset) stream.Seek(offset, SeekOrigin.Begin);
                return stream.Read(wanted, 0, wanted.Length);
            });
            wanted.AsSpan(0, read).CopyTo(buffer);
            return read;
        }

        public void Dispose()
        {
            try
            {
                stream.Dispose();
            }
            catch (Exception fault) when (SftpErrors.Expected(fault))
            {
                Log.Debug(fault, "A file on a server could not be closed; its connection is gone");
            }
        }

        private const int ChunkBytes = 256 * 1024;
    }
}
