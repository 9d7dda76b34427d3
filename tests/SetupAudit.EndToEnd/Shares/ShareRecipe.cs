using System.Globalization;
using SetupAudit.Support;

namespace SetupAudit.Shares;

/// <summary>How one kind of share is served and mounted.</summary>
internal sealed record ShareRecipe
{
    private const UnixFileMode Private = UnixFileMode.UserRead | UnixFileMode.UserWrite;

    public required string Name { get; init; }

    public required string Behind { get; init; }

    public required string MountPoint { get; init; }

    /// <summary>The mount point or a folder below it.</summary>
    public required string Folder { get; init; }

    public required int Port { get; init; }

    public required IReadOnlyList<string> Server { get; init; }

    public required IReadOnlyList<string> Mount { get; init; }

    /// <summary>SMB 3 through a client that keeps one connection, caches attributes for a second and waits long.</summary>
    public static ShareRecipe SmbNet(ShareGround ground)
    {
        var port = ShareGround.FreePort();
        // It shows every server as a folder, and takes a port in the name. Without the negative cache it hangs.
        ground.Write("home/.smb/smb.conf", "[global]\nclient min protocol = SMB2\n", Private);
        ground.Write("home/.smb/smbnetfs.conf", """
            smb_query_browsers "false"
            smb_timeout 3000
            reply_timeout 10
            max_retry_count 1
            neg_cache_timeout 100
            auth "guest" ""

            """, Private);
        var point = ground.MakeFolder("smbnetfs");
        return Samba(ground, "smbnetfs", port) with
        {
            MountPoint = point,
            Folder = $"{point}/127.0.0.1:{Text(port)}/share",
            Mount = [Tool.At("smbnetfs"), "-f", point],
        };
    }

    /// <summary>SMB through a client that caches listings for a second.</summary>
    public static ShareRecipe Rclone(ShareGround ground)
    {
        var port = ShareGround.FreePort();
        var point = ground.MakeFolder("rclone");
        var config = ground.Write("rclone.conf", string.Create(CultureInfo.InvariantCulture,
            $"[share]\ntype = smb\nhost = 127.0.0.1\nport = {port}\nuser = guest\n"), Private);
        return Samba(ground, "rclone", port) with
        {
            MountPoint = point,
            Folder = point,
            Mount =
            [
                Tool.At("rclone"), "mount", "share:share", point, "--config", config, "--read-only",
                "--dir-cache-time", "1s", "--attr-timeout", "0s", "--vfs-cache-mode", "off",
                "--timeout", "5s", "--contimeout", "3s", "--low-level-retries", "1",
            ],
        };
    }

    /// <summary>A file system over SSH: a handle that was open when the line broke is dead for ever.</summary>
    public static ShareRecipe Ssh(ShareGround ground)
    {
        var port = ShareGround.FreePort();
        var (behind, point) = (ground.MakeFolder("sshfs-served"), ground.MakeFolder("sshfs"));
        var (host, key) = (Key(ground, "ssh-host"), Key(ground, "ssh-key"));
        // OpenSSH will not start without this folder, which a container may lack.
        Directory.CreateDirectory("/run/sshd");
        var config = ground.Write("sshd.conf", $"""
            Port {Text(port)}
            ListenAddress 127.0.0.1
            HostKey {host}
            AuthorizedKeysFile {key}.pub
            StrictModes no
            UsePAM no
            PasswordAuthentication no
            PermitRootLogin yes
            PidFile none
            Subsystem sftp internal-sftp

            """);
        return new ShareRecipe
        {
            Name = "sshfs",
            Behind = behind,
            MountPoint = point,
            Folder = point,
            Port = port,
            Server = [SystemTool("sshd"), "-D", "-e", "-f", config],
            Mount =
            [
                Tool.At("sshfs"), "-f", "-p", Text(port), "-o",
                $"IdentityFile={key},StrictHostKeyChecking=no,UserKnownHostsFile=/dev/null,ro,"
                    + "reconnect,ServerAliveInterval=2,ServerAliveCountMax=2,dcache_timeout=1",
                $"root@127.0.0.1:{behind}", point,
            ],
        };
    }

    private static ShareRecipe Samba(ShareGround ground, string name, int port)
    {
        var (behind, own) = (ground.MakeFolder($"{name}-served"), ground.MakeFolder($"{name}-samba"));
        var config = ground.Write($"{name}-smb.conf", $"""
            [global]
            server role = standalone server
            map to guest = Bad User
            guest account = root
            interfaces = 127.0.0.1
            bind interfaces only = yes
            smb ports = {Text(port)}
            disable netbios = yes
            private dir = {own}
            lock directory = {own}
            state directory = {own}
            cache directory = {own}
            pid directory = {own}
            ncalrpc dir = {own}/rpc
            load printers = no
            disable spoolss = yes
            printcap name = /dev/null
            [share]
            path = {behind}
            guest ok = yes
            read only = yes

            """);
        return new ShareRecipe
        {
            Name = name,
            Behind = behind,
            MountPoint = "",
            Folder = "",
            Port = port,
            Server = [SystemTool("smbd"), "--foreground", "--no-process-group", "-s", config, "-l", own],
            Mount = [],
        };
    }

    private static string Key(ShareGround ground, string name)
    {
        var path = Path.Combine(ground.Folder, name);
        using var made = System.Diagnostics.Process.Start(Tool.At("ssh-keygen"), ["-q", "-t", "ed25519", "-N", "", "-f", path]);
        made.WaitForExit();
        return path;
    }

    // Servers are not on everybody's path.
    private static string SystemTool(string name) => File.Exists($"/usr/sbin/{name}") ? $"/usr/sbin/{name}" : Tool.At(name);

    private static string Text(int port) => port.ToString(CultureInfo.InvariantCulture);
}
