using System.Net.Sockets;
using SetupAudit.Support;

namespace SetupAudit.Shares;

/// <summary>
/// A folder that a server of our own serves and a file system in user space mounts. The control writes behind the
/// server; the program reads through the mount.
/// </summary>
internal sealed class RealShare : IDisposable
{
    private static readonly TimeSpan Soon = TimeSpan.FromSeconds(20);

    private readonly ShareGround _ground;
    private readonly ShareRecipe _recipe;
    private int _server;
    private int _mount;

    public RealShare(ShareGround ground, ShareRecipe recipe)
    {
        (_ground, _recipe) = (ground, recipe);
        foreach (var below in new[] { "offsets", "prints" }) Directory.CreateDirectory(Path.Combine(Behind, below));
        StartServer();
        Mount();
    }

    public string Name => _recipe.Name;

    /// <summary>The server's own folder.</summary>
    public string Behind => _recipe.Behind;

    /// <summary>The same as the program sees it.</summary>
    public string Folder => _recipe.Folder;

    public void StartServer()
    {
        _server = _ground.Run($"{Name}-server", _recipe.Server);
        ShareGround.Until(Answers, Soon, () => $"the server of {Name} listens");
    }

    /// <summary>As a power cut does.</summary>
    public void KillServer() => ShareGround.Signal("KILL", _server);

    /// <summary>As a pulled cable does: nothing is refused, nothing answers.</summary>
    public void FreezeServer() => ShareGround.Signal("STOP", _server);

    public void ThawServer() => ShareGround.Signal("CONT", _server);

    public void Mount()
    {
        _mount = _ground.Run($"{Name}-mount", _recipe.Mount);
        ShareGround.Until(() => ShareGround.IsMounted(_recipe.MountPoint) && Directory.Exists(Folder), Soon,
            () => $"{Name} is mounted");
    }

    /// <summary>Leaves a mount point that says "not connected".</summary>
    public void KillMount() => ShareGround.Signal("KILL", _mount);

    /// <summary>Every call on the mount hangs until it is thawed.</summary>
    public void FreezeMount() => ShareGround.Signal("STOP", _mount);

    public void ThawMount() => ShareGround.Signal("CONT", _mount);

    /// <summary>Leaves an empty folder where the share was.</summary>
    public void Unmount()
    {
        using var umount = System.Diagnostics.Process.Start(Tool.At("umount"), ["-l", _recipe.MountPoint]);
        umount.WaitForExit();
        ShareGround.Signal("KILL", _mount);
        ShareGround.Until(() => !ShareGround.IsMounted(_recipe.MountPoint), Soon, () => $"{Name} is unmounted");
    }

    public void Dispose()
    {
        ThawMount();
        ThawServer();
        if (ShareGround.IsMounted(_recipe.MountPoint)) Unmount();
        KillServer();
    }

    private bool Answers()
    {
        try
        {
            using var client = new TcpClient();
            client.Connect("127.0.0.1", _recipe.Port);
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }
}
