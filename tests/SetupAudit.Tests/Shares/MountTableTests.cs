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
}
