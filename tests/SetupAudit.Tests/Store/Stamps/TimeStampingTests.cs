using System.Text;
using SetupAudit.Shop;
using SetupAudit.Store.Verifying;
using SetupAudit.Support;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Stamps;

/// <summary>Stamps asked for by HTTP from openssl on a loopback port, and everything an authority may do wrong.</summary>
public sealed class TimeStampingTests
{
    [Fact]
    public async Task A_stamp_is_kept_beside_the_record_and_off_the_computer_and_openssl_verifies_both()
    {
        using var store = await RecordedStore.MadeAsync();
        await using var authority = new HouseAuthority();

        Assert.Null(await Of(store, authority).StampAsync(Token));

        var size = store.Sizes[^1];
        foreach (var folder in new[] { Path.Combine(store.Folder, "stamps"), Assert.Single(Directory.GetDirectories(store.OffBox)) })
        {
            Assert.Equal([$"{size}.tsr", $"{size}.txt"], Directory.GetFiles(folder).Select(Path.GetFileName).Order(StringComparer.Ordinal));
            Assert.Contains("Verification: OK", authority.Verified(
                Path.Combine(folder, $"{size}.tsr"), Path.Combine(folder, $"{size}.txt")), StringComparison.Ordinal);
        }
        var note = File.ReadAllText(Path.Combine(store.Folder, "stamps", $"{size}.txt"));
        Assert.EndsWith(note + "\n", File.ReadAllText(store.Anchors), StringComparison.Ordinal);
    }

    // RFC 3161, 3.4 and 2.4.1: what goes out is a hash, a nonce and the wish for the certificate.
    [Fact]
    public async Task What_is_asked_holds_the_hash_of_the_checkpoint_and_nothing_of_it()
    {
        using var store = await RecordedStore.MadeAsync();
        await using var authority = new HouseAuthority();
        await Of(store, authority).StampAsync(Token);
        var note = File.ReadAllBytes(Path.Combine(store.Folder, "stamps", $"{store.Sizes[^1]}.txt"));
        Assert.True(authority.LastQuery.AsSpan().IndexOf(System.Security.Cryptography.SHA256.HashData(note)) > 0);
        Assert.True(authority.LastQuery.Length < 120, $"{authority.LastQuery.Length}");
        Assert.DoesNotContain("setupaudit", Encoding.Latin1.GetString(authority.LastQuery), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_next_is_asked_for_when_its_time_has_come_and_the_record_has_grown()
    {
        using var store = await RecordedStore.MadeAsync();
        await using var authority = new HouseAuthority();
        var clock = new HandClock(DateTimeOffset.UtcNow.ToString("O"));
        var stamping = new TimeStamping(store.Folder, null, Config(authority), clock);
        await stamping.StampAsync(Token);
        await store.GoOnAsync(3);
        await stamping.StampAsync(Token);
        Assert.Equal(1, authority.Calls);
        clock.Advance(TimeSpan.FromHours(25));
        await stamping.StampAsync(Token);
        Assert.Equal(2, authority.Calls);
        Assert.Equal((store.Sizes[^1], null), (stamping.Standing.Size, stamping.Standing.Fault));
        // As a new start would: what is stamped is known by the files alone, and is not stamped again.
        clock.Advance(TimeSpan.FromHours(25));
        await new TimeStamping(store.Folder, null, Config(authority), clock).StampAsync(Token);
        Assert.Equal(2, authority.Calls);
    }

    [Fact]
    public async Task A_folder_off_the_computer_that_was_away_gets_what_it_missed()
    {
        using var store = await RecordedStore.MadeAsync();
        await using var authority = new HouseAuthority();
        var away = store["away"];
        var stamping = new TimeStamping(store.Folder, away, Config(authority), TimeProvider.System);
        Assert.Null(await stamping.StampAsync(Token));
        Directory.CreateDirectory(away);
        await stamping.StampAsync(Token);
        Assert.Equal(2, Directory.GetFiles(away, "*", SearchOption.AllDirectories).Length);
    }

    public static TheoryData<string, string> Misdeeds => new()
    {
        { "rejects", "the authority gave no stamp: it does not allow this (status 2)" },
        { "nonce", "its stamp is not the one that was just asked for: another nonce" },
        { "imprint", "the stamp is over something else" },
        { "altered", "the signature of the stamp does not hold" },
        { "oversized", "its answer has more than 65536 bytes, which no time stamp has" },
        { "redirects", "it answers with status 302" },
        { "page", "it answers text/html, not application/timestamp-reply" },
        { "busy", "it answers with status 503" },
        { "cut", "the call did not come through: " },
        { "junk", "it is no answer of a time-stamp authority" },
    };

    [Theory]
    [MemberData(nameof(Misdeeds))]
    public async Task An_answer_that_does_not_hold_is_not_kept_and_says_why(string what, string fault)
    {
        using var store = await RecordedStore.MadeAsync();
        await using var authority = new HouseAuthority();
        await using var elsewhere = new HouseAuthority();
        authority.Instead = query => Misdeed(what, query, authority, elsewhere);
        var stamping = Of(store, authority);

        Assert.StartsWith(fault, await stamping.StampAsync(Token), StringComparison.Ordinal);

        Assert.False(Directory.Exists(Path.Combine(store.Folder, "stamps")));
        Assert.Equal(0, elsewhere.Calls);
        Assert.True((await store.CheckAsync()).Holds);
        authority.Instead = null;
        Assert.Null(await stamping.StampAsync(Token));
        Assert.Null(stamping.Standing.Fault);
    }

    [Fact]
    public async Task An_authority_that_says_nothing_is_given_up_after_a_while_and_the_store_is_written_meanwhile()
    {
        using var store = await RecordedStore.MadeAsync();
        await using var authority = new HouseAuthority { Instead = _ => null };
        var clock = new HandClock(DateTimeOffset.UtcNow.ToString("O"));
        var asked = new TimeStamping(store.Folder, null, Config(authority), clock).StampAsync(Token);
        await store.GoOnAsync(3);
        while (authority.Calls == 0) await Task.Yield();
        clock.Advance(StampAuthority.Limit);
        Assert.Equal("no answer within 15 s", await asked);
    }

    [Fact]
    public async Task Nobody_answers_and_one_that_is_not_trusted_are_said_in_words()
    {
        using var store = await RecordedStore.MadeAsync();
        await using var authority = new HouseAuthority();
        await using var other = new HouseAuthority(signedUntil: DateTimeOffset.UtcNow.AddDays(-1));
        Assert.Equal("none of the trusted certificates vouches for the authority's",
            await new TimeStamping(store.Folder, null, Config(authority) with { CertificateFile = other.RootFile }, TimeProvider.System).StampAsync(Token));
        Assert.Equal("the certificate that made the stamp was out of date at that moment", await Of(store, other).StampAsync(Token));
        Assert.EndsWith("no-such.pem is not there", await new TimeStamping(store.Folder, null,
            Config(authority) with { CertificateFile = store["no-such.pem"] }, TimeProvider.System).StampAsync(Token), StringComparison.Ordinal);
        Assert.StartsWith("the call did not come through: ", await new TimeStamping(store.Folder, null,
            new TimeStampConfig("http://127.0.0.1:9/", other.RootFile), TimeProvider.System).StampAsync(Token), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_failed_is_tried_again_after_1_5_and_15_minutes_and_then_every_hour()
    {
        using var store = await RecordedStore.MadeAsync();
        await using var authority = new HouseAuthority { Instead = _ => HouseAuthority.Http([], code: 503) };
        var clock = new HandClock(DateTimeOffset.UtcNow.ToString("O"));
        var (kept, failed) = (0, 0);
        var stamping = new TimeStamping(store.Folder, null, Config(authority), clock)
        {
            OnAsked = isKept => _ = isKept ? Interlocked.Increment(ref kept) : Interlocked.Increment(ref failed),
        };
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Token);
        var running = stamping.RunAsync(stop.Token);
        var tries = 1;
        foreach (var minutes in new[] { 1, 5, 15, 60, 60 })
        {
            while (Volatile.Read(ref failed) < tries || clock.Timers != 1) await Task.Yield();
            clock.Advance(TimeSpan.FromMinutes(minutes) - TimeSpan.FromSeconds(1));
            Assert.Equal(1, clock.Timers);
            clock.Advance(1);
            tries++;
        }
        while (Volatile.Read(ref failed) < tries || clock.Timers != 1) await Task.Yield();
        authority.Instead = null;
        clock.Advance(TimeSpan.FromHours(1));
        while (Volatile.Read(ref kept) == 0 || clock.Timers != 1) await Task.Yield();
        Assert.Null(stamping.Standing.Fault);
        Assert.Equal(tries, failed);
        await stop.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => running);
    }

    internal static TimeStampConfig Config(HouseAuthority authority) => new(authority.Url, authority.RootFile);

    private static TimeStamping Of(RecordedStore store, HouseAuthority authority) =>
        new(store.Folder, store.OffBox, Config(authority), TimeProvider.System);

    private static byte[] Misdeed(string what, byte[] query, HouseAuthority authority, HouseAuthority elsewhere) => what switch
    {
        // PKIStatusInfo with the status 2 and the bit badRequest (RFC 3161, 2.4.2).
        "rejects" => HouseAuthority.Http(Convert.FromHexString("30093007020102" + "03020520")),
        "nonce" => HouseAuthority.Http(authority.StampOver("some"u8.ToArray())),
        "imprint" => HouseAuthority.Http(authority.Reply(OtherHash(query))),
        "altered" => HouseAuthority.Http(Altered(authority.Reply(query))),
        "oversized" => HouseAuthority.Http(new byte[70_000]),
        "redirects" => Encoding.ASCII.GetBytes($"HTTP/1.1 302 Found\r\nLocation: {elsewhere.Url}\r\nContent-Length: 0\r\n\r\n"),
        "page" => HouseAuthority.Http("<p>Sign in</p>"u8.ToArray(), "text/html"),
        "busy" => HouseAuthority.Http([], code: 503),
        "cut" => HouseAuthority.Http(authority.Reply(query))[..300],
        _ => HouseAuthority.Http("junk"u8.ToArray()),
    };

    // The hash stands behind the object identifier of SHA-256 and its parameters: 04 20 and 32 bytes.
    private static byte[] OtherHash(byte[] query)
    {
        byte[] altered = [.. query];
        altered[query.AsSpan().IndexOf(new byte[] { 0x04, 0x20 }) + 5] ^= 1;
        return altered;
    }

    // The last bytes of an answer are those of the signature.
    private static byte[] Altered(byte[] answer)
    {
        answer[^5] ^= 1;
        return answer;
    }
}
