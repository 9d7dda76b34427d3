namespace SetupAudit.Store;

public sealed class LocalFolderTests
{
    // Lines as the kernel's documentation of /proc/self/mountinfo gives them (proc_pid_mountinfo(5)).
    private const string Mounts = """
        23 1 8:1 / / rw,relatime shared:1 - ext4 /dev/sda1 rw
        24 23 0:21 / /proc rw,nosuid - proc proc rw
        36 23 0:40 / /mnt/control rw,noatime shared:9 master:1 - cifs //server/share rw,vers=3.0
        37 23 0:41 / /mnt/data\040two rw - nfs4 server:/export rw
        38 23 0:42 / /mnt/phone rw - fuse.sshfs user@host:/ rw
        39 36 8:2 / /mnt/control/local rw - xfs /dev/sdb1 rw
        40 23 0:50 / /var/over rw - nfs server:/old rw
        41 23 8:3 / /var/over rw - ext4 /dev/sdc1 rw
        42 23 0:51 / /vm rw - virtiofs tag rw
        """;

    [Theory]
    [InlineData("/var/lib/setupaudit", null)]
    [InlineData("/mnt/control/audit", "a cifs mount")]
    [InlineData("/mnt/control", "a cifs mount")]
    [InlineData("/mnt/controller", null)]
    [InlineData("/mnt/control/local/audit", null)]
    [InlineData("/mnt/data two/audit", "a nfs4 mount")]
    [InlineData("/mnt/phone/x", "a fuse.sshfs mount")]
    [InlineData("/var/over/x", null)]
    [InlineData("/vm/x", "a virtiofs mount")]
    public void A_store_on_a_share_is_refused_by_the_kind_of_its_mount(string path, string? refused) =>
        Assert.Equal(refused, LocalFolder.RefusedKind(path, Mounts));

    [Fact]
    public void A_mount_table_of_another_shape_refuses_nothing() =>
        Assert.Null(LocalFolder.RefusedKind("/x", "\n-\n1 2 3 - nfs\nnonsense - - -\n"));
}
