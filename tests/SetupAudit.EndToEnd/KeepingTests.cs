using SetupAudit.Support;

namespace SetupAudit;

/// <summary>A copy of the record is made, lost sight of, and put back, by the commands that a person types.</summary>
public sealed class KeepingTests
{
    private const string Config = Workshop.OneMill;

    [Fact]
    public void A_store_that_is_lost_is_put_back_from_its_copy_and_goes_on()
    {
        using var shop = Workshop.With(Config).Write("shares/mill-3/offsets/1.nc", "2026-03-02T07:00:00Z", Dump("-310.2"));
        shop.Once();
        var backup = shop.Run("backup", "--out", shop["copy"]).Exits(0);
        Assert.Contains("verified to", backup.Output, StringComparison.Ordinal);
        Assert.Contains("The key that signs is not part of it", backup.Errors, StringComparison.Ordinal);
        Lose(shop);

        shop.Run("restore", "--from", shop["copy"]).Exits(0);

        shop.Write("shares/mill-3/offsets/2.nc", "2026-03-02T08:00:00Z", Dump("-300.4")).Once();
        Assert.Equal(2, shop.List("arrivals").Count);
        shop.Run("verify").Exits(0);
        shop.Run("rebuild").Exits(0);
        Assert.Contains(shop.List("trail"), line => line.Text("what") == $"the copy in {shop["copy"]} was put back");
    }

    [Fact]
    public void A_copy_older_than_the_checkpoints_kept_elsewhere_goes_on_only_as_a_new_record_that_says_so()
    {
        using var shop = Workshop.With(Config.Replace(
            "\"Folder\": \"audit\"", "\"Folder\": \"audit\", \"Checkpoints\": \"elsewhere\"", StringComparison.Ordinal));
        Directory.CreateDirectory(shop["elsewhere"]);
        shop.Write("shares/mill-3/offsets/1.nc", "2026-03-02T07:00:00Z", Dump("-310.2")).Once();
        shop.Run("backup", "--out", shop["copy"]).Exits(0);
        shop.Write("shares/mill-3/offsets/2.nc", "2026-03-02T08:00:00Z", Dump("-300.4")).Once();
        Lose(shop);

        var refused = shop.Run("restore", "--from", shop["copy"]).Exits(2);
        Assert.Contains("a second history is never signed", refused.Errors, StringComparison.Ordinal);
        Assert.Contains("give --new-record", refused.Errors, StringComparison.Ordinal);
        shop.Run("restore", "--from", shop["copy"], "--new-record").Exits(2);
        shop.Run("restore", "--from", shop["copy"], "--new-record", "--by", "Ann Reed", "--reason", "the disk died").Exits(0);

        shop.Once();
        Assert.Equal(2, shop.List("arrivals").Count);
        shop.Run("verify").Exits(0);
        Assert.Contains(shop.List("trail"), line => line.Text("by") == "Ann Reed"
            && line.Text("what")?.EndsWith("was set aside and this one begun: the disk died", StringComparison.Ordinal) == true);
    }

    [Fact]
    public void With_the_key_lost_restore_says_what_is_left_to_do_and_once_begins_nothing_unseen()
    {
        using var shop = Workshop.With(Config.Replace(
            "\"Folder\": \"audit\"", "\"Folder\": \"audit\", \"Checkpoints\": \"elsewhere\"", StringComparison.Ordinal));
        Directory.CreateDirectory(shop["elsewhere"]);
        shop.Write("shares/mill-3/offsets/1.nc", "2026-03-02T07:00:00Z", Dump("-310.2"));
        Assert.Matches(@"(?m)^Began a new record, setupaudit/\S+, for there was none\. Write its key down elsewhere", shop.Once().Errors);
        Assert.DoesNotContain("Began", shop.Once().Errors, StringComparison.Ordinal);
        shop.Run("backup", "--out", shop["copy"]).Exits(0);
        Directory.Delete(shop["audit"], recursive: true);

        Assert.Equal($"--from: there is no folder {shop["nowhere"]}.", shop.Run("restore", "--from", shop["nowhere"]).Exits(2).Errors.Trim());
        Assert.StartsWith($"--from: {shop["elsewhere"]} holds no copy of a record", shop.Run("restore", "--from", shop["elsewhere"]).Exits(2).Errors, StringComparison.Ordinal);
        var refused = shop.Run("restore", "--from", shop["copy"]).Exits(2).Errors;
        Assert.Contains($"Put it back to {shop["audit/record.key"]}", refused, StringComparison.Ordinal);
        Assert.Contains("--new-record with --by and --reason", refused, StringComparison.Ordinal);
        Assert.False(Directory.Exists(shop["audit"]));
        Assert.Contains("a new record is not begun in its place unseen", shop.Run("once").Exits(2).Errors, StringComparison.Ordinal);

        shop.Run("restore", "--from", shop["copy"], "--new-record", "--by", "Ann Reed", "--reason", "the key is lost").Exits(0);
        shop.Once();
        shop.Run("verify").Exits(0);
    }

    [Fact]
    public void A_store_whose_key_is_lost_says_how_to_go_on_and_that_way_is_open()
    {
        using var shop = Workshop.With(Config).Write("shares/mill-3/offsets/1.nc", "2026-03-02T07:00:00Z", Dump("-310.2"));
        shop.Once();
        File.Delete(shop["audit/record.key"]);
        Assert.Contains("Where it is lost for good: 'backup --out DIR' copies the record without it", shop.Run("once").Exits(2).Errors, StringComparison.Ordinal);

        var backup = shop.Run("backup", "--out", shop["copy"]).Exits(1);
        Assert.Contains("That a copy was made could not be said in the record. The record's key ", backup.Errors, StringComparison.Ordinal);
        Assert.Contains("verified to", backup.Output, StringComparison.Ordinal);
        Directory.Move(shop["audit"], shop["aside"]);
        shop.Run("restore", "--from", shop["copy"], "--new-record", "--by", "Ann Reed", "--reason", "the key is lost").Exits(0);
        shop.Once();
        shop.Run("verify").Exits(0);
        Assert.Single(shop.List("arrivals"));
    }

    [Fact]
    public void A_copy_does_not_go_into_the_store_or_a_watched_folder()
    {
        using var shop = Workshop.With(Config);
        shop.Once();
        shop.Run("backup", "--out", shop["audit/copy"]).Exits(2);
        shop.Run("backup", "--out", shop["shares/mill-3/offsets/copy"]).Exits(2);
    }

    // All but the key, which is kept elsewhere as the copy tells.
    private static void Lose(Workshop shop)
    {
        var key = File.ReadAllBytes(shop["audit/record.key"]);
        Directory.Delete(shop["audit"], recursive: true);
        Directory.CreateDirectory(shop["audit"]);
        File.WriteAllBytes(shop["audit/record.key"], key);
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(shop["audit/record.key"], UnixFileMode.UserRead | UnixFileMode.UserWrite);
    }

    private static string Dump(string x) => $"G90 G10 L2 P1 X{x} Y-205. Z-300.\n";
}
