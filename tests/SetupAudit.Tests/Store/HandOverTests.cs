using SetupAudit.Support;

namespace SetupAudit.Store;

public sealed class HandOverTests : IDisposable
{
    private static readonly DateTimeOffset Now = new(2026, 3, 2, 7, 0, 0, TimeSpan.Zero);

    private readonly TempShare _share = new();
    private readonly HandOver _folder;

    public HandOverTests() => _folder = new HandOver(_share.Folder, "asked", ".ask");

    public void Dispose() => _share.Dispose();

    [Fact]
    public void What_is_asked_waits_until_it_is_answered_and_the_answer_until_it_is_fetched()
    {
        var id = HandOver.NewId(Now);
        _folder.Put(id, "please");
        Assert.Equal(["please"], _folder.Waiting((_, text) => text));
        Assert.Null(_folder.Answer(id));

        _folder.Say(id, "done");

        Assert.Empty(_folder.Waiting((_, text) => text));
        Assert.Equal("done", _folder.Answer(id));
        Assert.Null(_folder.Answer(id));
    }

    [Theory]
    [InlineData("..%2f..%2fshop.ask")]
    [InlineData("20260302-070000-0123456789ABCDEF.ask")]
    [InlineData("anything.ask")]
    public void A_name_that_is_none_of_ours_is_set_aside_unread(string name)
    {
        _share.Write($"asked/{name}", "please");
        Assert.Empty(_folder.Waiting((_, text) => text));
        Assert.True(File.Exists(_share[$"asked/{name}.refused"]));
    }

    [Fact]
    public void What_cannot_be_read_as_asked_is_set_aside_and_a_link_is_not_followed()
    {
        _share.Write("asked/20260302-070000-0123456789ab.ask", "please");
        _share.Write("elsewhere.txt", "secret");
        File.CreateSymbolicLink(_share["asked/20260302-070000-0123456789ac.ask"], _share["elsewhere.txt"]);
        Assert.Empty(_folder.Waiting<string>((_, text) => text == "secret" ? text : null));
        Assert.Empty(_folder.Waiting((_, text) => text));
    }

    [Fact]
    public void Only_the_owner_can_look_into_the_folder()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has no such permissions");
        if (OperatingSystem.IsWindows()) return;
        var id = HandOver.NewId(Now);
        _folder.Put(id, "please");
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute,
            File.GetUnixFileMode(_share["asked"]));
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(_share[$"asked/{id}.ask"]));
    }

    [Fact]
    public void An_answer_that_nobody_came_for_goes_after_a_day()
    {
        var id = HandOver.NewId(Now);
        _folder.Say(id, "done");
        File.SetLastWriteTimeUtc(_share[$"asked/{id}.answer"], Now.UtcDateTime);
        _folder.Tidy(Now.AddHours(23));
        Assert.True(File.Exists(_share[$"asked/{id}.answer"]));
        _folder.Tidy(Now.AddHours(25));
        Assert.False(File.Exists(_share[$"asked/{id}.answer"]));
    }
}
