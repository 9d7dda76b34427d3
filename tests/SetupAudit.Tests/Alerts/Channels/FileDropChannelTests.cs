using System.Text.Json;
using SetupAudit.Alerts.Support;
using SetupAudit.Shop;
using SetupAudit.Support;

namespace SetupAudit.Alerts.Channels;

public sealed class FileDropChannelTests : IDisposable
{
    private readonly TempShare _share = new();
    private readonly HandClock _clock = new("2026-03-02T07:14:40Z");

    public void Dispose() => _share.Dispose();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private IReadOnlyList<string> Names =>
        [.. Directory.EnumerateFileSystemEntries(_share["drop"]).Select(path => Path.GetFileName(path)).Order(StringComparer.Ordinal)];

    [Fact]
    public async Task A_message_is_one_file_of_JSON_named_by_time_and_id()
    {
        var result = await SendAsync(SomeAlert.Raised);
        Assert.Equal(SendOutcome.Sent, result.Outcome);
        var name = Assert.Single(Names);
        Assert.Matches("^20260302T071425Z-raised-[0-9a-f]{32}\\.json$", name);
        Assert.Equal($"Put as {name}.", result.Reason);
        var body = JsonElement.Parse(_share.Text($"drop/{name}"));
        Assert.Equal("mill-3@20260302-071000/1", body.GetProperty("alert").GetString());
        Assert.Equal(15, body.GetProperty("ageSeconds").GetInt32());
    }

    [Fact]
    public async Task As_text_it_is_the_letter()
    {
        await SendAsync(SomeAlert.Raised, isText: true);
        var name = Assert.Single(Names);
        Assert.EndsWith(".txt", name);
        Assert.StartsWith("mill-3 stop: X and Y of G54", _share.Text($"drop/{name}"));
    }

    [Fact]
    public async Task A_second_try_of_the_same_message_leaves_the_first_file_alone()
    {
        await SendAsync(SomeAlert.Raised);
        var name = Assert.Single(Names);
        _share.Write($"drop/{name}", "read and marked by another program");
        var again = await SendAsync(SomeAlert.Raised);
        Assert.Equal(new SendResult(SendOutcome.Sent, $"{name} was there already, from an earlier try."), again);
        Assert.Equal("read and marked by another program", _share.Text($"drop/{name}"));
    }

    [Fact]
    public async Task Two_messages_of_one_second_are_two_files()
    {
        await SendAsync(SomeAlert.Raised);
        await SendAsync(SomeAlert.Raised with { Id = "another" });
        Assert.Equal(2, Names.Count);
    }

    [Fact]
    public async Task A_draft_that_a_crash_left_is_made_anew_and_a_link_in_its_place_is_not_followed()
    {
        await SendAsync(SomeAlert.Raised);
        var name = Assert.Single(Names);
        File.Delete(_share[$"drop/{name}"]);
        var other = _share.Write("precious.txt", "precious");
        File.CreateSymbolicLink(_share[$"drop/.{name}.part"], other);
        await SendAsync(SomeAlert.Raised);
        Assert.Equal([name], Names);
        Assert.Equal("precious", File.ReadAllText(other));
        Assert.Null(new FileInfo(_share[$"drop/{name}"]).LinkTarget);
    }

    [Fact]
    public async Task A_folder_whose_parent_is_missing_is_waited_for()
    {
        var config = new FileDropConfig("x", _share["mount/gone/drop"], false);
        var result = await Channel(config).SendAsync(SomeAlert.Raised, Token);
        Assert.Equal(new SendResult(SendOutcome.Temporary, $"The folder {_share["mount/gone/drop"]} is not there."), result);
        Assert.False(Directory.Exists(_share["mount"]));
    }

    [Fact]
    public async Task A_folder_that_is_a_file_is_tried_again()
    {
        _share.Write("drop", "a file");
        Assert.Equal(SendOutcome.Temporary, (await SendAsync(SomeAlert.Raised)).Outcome);
    }

    [Theory]
    [MemberData(nameof(HostileText.All), MemberType = typeof(HostileText))]
    public async Task No_sign_of_a_shares_text_gets_into_the_name(string text)
    {
        await SendAsync(SomeAlert.Saying(text));
        Assert.Matches("^20260302T071425Z-raised-[0-9a-f]{32}\\.json$", Assert.Single(Names));
    }

    private Task<SendResult> SendAsync(AlertMessage message, bool isText = false) =>
        Channel(new FileDropConfig("drop", _share["drop"], isText)).SendAsync(message, Token);

    private IAlertChannel Channel(FileDropConfig config) =>
        Assert.Single(AlertChannels.Of(new AlertsConfig { ReportUrl = "", Files = config }, _clock));
}
