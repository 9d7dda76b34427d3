namespace SetupAudit.Shares;

public sealed class MountTableTests
{
    // Lines as proc(5) describes them.
    private static readonly string[] Table =
    [
        "22 1 8:1 / / rw,relatime shared:1 - ext4 /dev/sda1 rw",
        "60 22 0:50 / /mnt/nas rw,relatime shared:30 - autofs systemd-1 rw",
        "61 60 0:51 / /mnt/nas rw,relatime shared:31 - cifs //nas/cells rw,vers=3.1.1",
        "62 22 0:52 / /mnt/two\\040words rw - nfs4 nas:/cells rw",
        "63 22 broken line",
    ];

    [Theory]
    [InlineData("/mnt/nas/mill-3/offsets", "/mnt/nas cifs //nas/cells")]
    [InlineData("/mnt/nas", "/mnt/nas cifs //nas/cells")]
    [InlineData("/mnt/nasty", "/ ext4 /dev/sda1")]
    [InlineData("/mnt/two words/a", "/mnt/two words nfs4 nas:/cells")]
    public void The_mount_of_a_folder_is_the_longest_and_latest_that_covers_it(string folder, string mount) =>
        Assert.Equal(mount, MountTable.Find(Table, folder));

    [Theory]
    [InlineData("/ ext4 /dev/vda", true)]
    [InlineData("/mnt/my share xfs /dev/sdb1", true)]
    [InlineData("/mnt/nas cifs //nas/dumps", false)]
    [InlineData("/mnt/nas nfs4 nas:/dumps", false)]
    [InlineData("/mnt/nas fuse.sshfs root@nas:/dumps", false)]
    public void Only_a_local_file_system_shows_sizes_as_they_are_now(string mount, bool isTruthful) =>
        Assert.Equal(isTruthful, MountTable.IsTruthful(mount, "/mnt/nas"));

    [Fact]
    public void Where_the_system_does_not_tell_only_a_network_path_is_doubted()
    {
        Assert.True(MountTable.IsTruthful(null, @"D:\dumps"));
        Assert.False(MountTable.IsTruthful(null, @"\\nas\dumps"));
    }
}
