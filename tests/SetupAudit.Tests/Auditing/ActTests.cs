using SetupAudit.People;
using SetupAudit.Setups;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;
using static SetupAudit.Auditing.AuditBench;

namespace SetupAudit.Auditing;

/// <summary>What people hand over is kept once, wherever the process that takes it in stops.</summary>
public sealed class ActTests : IDisposable
{
    private readonly AuditBench _bench = new();
    private readonly Inbox _inbox;

    public ActTests()
    {
        _inbox = new Inbox(_bench.StoreFolder);
        _bench.Write("offsets/1.nc", Dump(-400, -200, -300), "2026-03-02T06:00:00Z");
        _bench.Write("offsets/2.nc", Dump(-410, -210, -300), "2026-03-02T07:00:00Z");
    }

    [Fact]
    public async Task A_stop_at_any_write_keeps_a_review_once_and_answers_it()
    {
        await _bench.OnceAsync();
        for (var stop = 1; stop <= 8; stop++)
        {
            var act = await ActAsync();
            _inbox.Put(act);
            await StoppedAtAsync(stop);
            await _bench.OnceAsync();
            Assert.Equal(ActOutcome.Done, _inbox.Answer(act.Id)?.Outcome);
            Assert.Empty(_inbox.Waiting());
            Assert.Equal(stop, (await ReviewsAsync()).Count);
        }
        Assert.Contains("\"status\":\"accepted\"", (await _bench.RowsAsync(DerivedKind.Setup))[^1].Body, StringComparison.Ordinal);
        Assert.Equal(0, (await _bench.RebuildAsync()).DifferenceCount);
    }

    [Fact]
    public async Task Evidence_that_comes_later_makes_it_queried_again_and_keeps_the_review()
    {
        await _bench.OnceAsync();
        _inbox.Put(await ActAsync());
        await _bench.OnceAsync();
        _bench.Write("offsets/3.nc", Dump(-410, -210, -305), "2026-03-02T07:20:00Z");
        await _bench.OnceAsync();

        var setup = ShapeBody.Read<SetupView>((await _bench.RowsAsync(DerivedKind.Setup, "mill-3"))[^1].Body);
        Assert.Equal(SetupStatus.Queried, setup.Status);
        Assert.Equal(ReviewVerdict.Accepted, setup.Review?.Verdict);
        Assert.Equal("Recorded as accepted under the name Ann Reed; nobody proved that name. Queried again: evidence of this "
            + "setup came after the review. The verdict concerns the setup, not the parts cut in it.", setup.Review?.Words);
    }

    [Fact]
    public async Task A_review_of_a_setup_that_changed_meanwhile_is_not_kept()
    {
        await _bench.OnceAsync();
        var act = await ActAsync();
        _bench.Write("offsets/3.nc", Dump(-410, -210, -305), "2026-03-02T07:20:00Z");
        await _bench.OnceAsync();
        _inbox.Put(act);
        await _bench.OnceAsync();

        Assert.Equal(ActOutcome.Changed, _inbox.Answer(act.Id)?.Outcome);
        Assert.Empty(await ReviewsAsync());
    }

    [Theory]
    [InlineData("setup")]
    [InlineData("reason")]
    [InlineData("name")]
    [InlineData("rows")]
    [InlineData("verdict")]
    [InlineData("time")]
    [InlineData("origin")]
    [InlineData("id")]
    public async Task A_signature_fits_nothing_else(string other)
    {
        await _bench.OnceAsync();
        var add = PersonActs.Add(
            new PersonGiven("Ann Reed", _bench.Now, "added", null, "shop"), "quality", "four plain words do");
        _inbox.Put(add);
        await _bench.OnceAsync();
        using var store = await StoreReader.OpenAsync(_bench.StoreFolder, Token);
        using var signed = await new SignInDoor(store, TimeProvider.System)
            .TryAsync("ann reed", "four plain words do", "review", "shop", Token);
        var act = await ActAsync(signed);
        var review = act.Review ?? throw new InvalidOperationException();
        var moved = other switch
        {
            "setup" => review with { Setup = review.Setup + "x" },
            "reason" => review with { Reason = "another" },
            "name" => review with { By = "Bob" },
            "rows" => review with { RowsSha256 = new string('0', 64) },
            "verdict" => review with { Verdict = ReviewVerdict.Rejected },
            "time" => review with { AtUtc = review.AtUtc.AddSeconds(-1) },
            "origin" => review with { Origin = "another" },
            _ => review with { Id = Inbox.NewId(review.AtUtc) },
        };
        _inbox.Put(act with { Id = moved.Id, Review = moved });
        _inbox.Put(act);
        await _bench.OnceAsync();

        if (other == "id") Assert.Equal(ActOutcome.Refused, _inbox.Answer(moved.Id)?.Outcome);
        else Assert.Equal(ActOutcome.Done, _inbox.Answer(act.Id)?.Outcome);
        Assert.All(await ReviewsAsync(), kept => Assert.Equal(PeopleText.Of(review), PeopleText.Of(kept)));
        if (other == "id") return;
        // The same id again, with the other words: what is kept stays.
        _inbox.Put(act with { Review = moved });
        await _bench.OnceAsync();
        Assert.Equal(PeopleText.Of(review), PeopleText.Of(Assert.Single(await ReviewsAsync())));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_review_that_nobody_signed_does_not_take_the_place_of_a_signed_one(bool together)
    {
        await _bench.OnceAsync();
        _inbox.Put(PersonActs.Add(
            new PersonGiven("Ann Reed", _bench.Now, "added", null, "shop"), "quality", "four plain words do"));
        await _bench.OnceAsync();
        using var store = await StoreReader.OpenAsync(_bench.StoreFolder, Token);
        using var signed = await new SignInDoor(store, TimeProvider.System)
            .TryAsync("ann reed", "four plain words do", "review", "shop", Token);
        var first = await ActAsync(signed);
        _inbox.Put(first);
        // Handed over at once, the second is looked at before anything was derived from the first.
        if (!together) await _bench.OnceAsync();
        var id = Inbox.NewId(_bench.Now.AddSeconds(1));
        var second = await ActAsync();
        var unsigned = second.Review ?? throw new InvalidOperationException();
        _inbox.Put(second with { Id = id, Review = unsigned with { Id = id, AtUtc = unsigned.AtUtc.AddSeconds(1) } });
        await _bench.OnceAsync();

        var answer = _inbox.Answer(id);
        Assert.Equal((ActOutcome.Refused, $"Ann Reed signed a review of {unsigned.Setup}, and only a signed review takes the "
            + "place of a signed one. Sign it: give --password-file, or type the password."), (answer?.Outcome, answer?.Says));
        Assert.Equal(first.Id, Assert.Single(await ReviewsAsync()).Id);
    }

    [Fact]
    public async Task What_is_no_act_is_set_aside_and_stops_nothing()
    {
        await _bench.OnceAsync();
        var folder = Directory.CreateDirectory(Path.Combine(_bench.StoreFolder, "inbox")).FullName;
        File.WriteAllText(Path.Combine(folder, "20260302-070000-0123456789ab.act"), "{ no json");
        File.WriteAllText(Path.Combine(folder, "20260302-070000-0123456789ac.act"), new string('x', 100_000));
        File.CreateSymbolicLink(Path.Combine(folder, "20260302-070000-0123456789ad.act"), "/etc/passwd");
        var act = await ActAsync();
        _inbox.Put(act);
        await _bench.OnceAsync();

        Assert.Equal(ActOutcome.Done, _inbox.Answer(act.Id)?.Outcome);
        Assert.Equal(3, Directory.EnumerateFileSystemEntries(folder, "*.refused").Count());
    }

    private async Task<Act> ActAsync(SignedIn? signed = null)
    {
        using var store = await StoreReader.OpenAsync(_bench.StoreFolder, Token);
        var head = (await _bench.RowsAsync(DerivedKind.Setup, "mill-3"))[^1];
        return await ReviewActs.OfAsync(store, head, new ReviewGiven("Ann Reed", ReviewVerdict.Accepted, "measured", null),
            signed, new ShopClock(_bench.Options().Shop), _bench.Now, Token);
    }

    private async Task<IReadOnlyList<Review>> ReviewsAsync()
    {
        using var store = await StoreReader.OpenAsync(_bench.StoreFolder, Token);
        return await store.ReviewsAsync(Token);
    }

    private async Task StoppedAtAsync(int write)
    {
        var auditor = _bench.Auditor();
        var written = 0;
        auditor.OnOpened = store => store.OnStep = step =>
        {
            if (step == StoreStep.RowsWritten && ++written >= write) throw new StoppedException();
        };
        await Record.ExceptionAsync(() => auditor.OnceAsync(Token));
    }

    public void Dispose() => _bench.Dispose();

    private sealed class StoppedException : Exception;
}
