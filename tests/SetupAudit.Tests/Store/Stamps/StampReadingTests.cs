using System.Security.Cryptography;
using System.Security.Cryptography.Pkcs;
using System.Text;
using SetupAudit.Support;

namespace SetupAudit.Store.Stamps;

/// <summary>Answers that openssl made, or that were made by hand against RFC 3161, and what is wrong with them.</summary>
public sealed class StampReadingTests
{
    private static readonly byte[] Note = Encoding.UTF8.GetBytes("setupaudit/made-up/0\n8\nXcnaeacGWamtVZy3Ad7ZoqudgjqtL0lgz+Nw7/RgQyg=\n");

    [Fact]
    public async Task A_stamp_by_openssl_holds_and_says_when_and_by_whom()
    {
        await using var authority = new HouseAuthority();
        using var trust = Trust(authority);
        var before = DateTimeOffset.UtcNow.AddSeconds(-2);

        var stamp = StampReading.Check(authority.StampOver(Note), Note, trust);

        Assert.InRange(stamp.AtUtc, before, DateTimeOffset.UtcNow.AddSeconds(2));
        Assert.Equal("CN=Harrow Lane time (made up), C=GB", stamp.By);
        Assert.True(stamp.IsTrusted);
        Assert.False(StampReading.Check(authority.StampOver(Note), Note, trust: null).IsTrusted);
    }

    // RFC 3161, 2.4.2: messageImprint is the one that was asked for.
    [Fact]
    public async Task A_stamp_over_something_else_does_not_hold()
    {
        await using var authority = new HouseAuthority();
        Assert.Equal("the stamp is over something else", Fault(authority.StampOver("another"u8.ToArray())));
    }

    // RFC 3161, 2.4.2: the status of a rejection is 2, and PKIFailureInfo says why.
    [Theory]
    [InlineData("30093007020102" + "30020C00", "the authority gave no stamp: it gives no reason (status 2)")]
    [InlineData("3005" + "3003" + "020102", "the authority gave no stamp: it gives no reason (status 2)")]
    [InlineData("3009" + "3007" + "020102" + "03020780", "the authority gave no stamp: it does not take SHA-256 (status 2)")]
    [InlineData("300B" + "3009" + "020102" + "0304" + "00000100", "the authority gave no stamp: it does not stamp under that policy (status 2)")]
    [InlineData("3005" + "3003" + "020103", "the authority gave no stamp: it gives no reason (status 3)")]
    [InlineData("3005" + "3003" + "020100", "it is no answer of a time-stamp authority")]
    [InlineData("300D" + "300B" + "0209010000000000000000", "it is no answer of a time-stamp authority")]
    [InlineData("", "it is no answer of a time-stamp authority")]
    public void An_answer_without_a_stamp_says_why(string hex, string fault) =>
        Assert.Equal(fault, Fault(Convert.FromHexString(hex)));

    // RFC 3161, 2.2: the requester verifies the nonce, so that an answer of an earlier day is none.
    [Fact]
    public async Task An_answer_to_another_request_is_refused_by_its_nonce()
    {
        await using var authority = new HouseAuthority();
        using var trust = Trust(authority);
        var (first, second) = (Request(), Request());
        var answer = authority.Reply(first.Encode());
        StampReading.Check(answer, Note, trust, first);
        var fault = Assert.Throws<StampFaultException>(() => StampReading.Check(answer, Note, trust, second));
        Assert.Equal("its stamp is not the one that was just asked for: another nonce", fault.Message);
        fault = Assert.Throws<StampFaultException>(() => StampReading.Check(authority.StampOver(Note).AsSpan()[..^1], Note, trust, second));
        Assert.Equal("it is no answer of a time-stamp authority", fault.Message);
    }

    // RFC 3161, 2.4.1: reqPolicy, where it is given.
    [Fact]
    public async Task A_stamp_under_another_policy_than_the_one_asked_for_is_refused()
    {
        await using var authority = new HouseAuthority();
        using var trust = Trust(authority);
        var plain = Request();
        var asked = Request(HouseAuthority.OtherPolicy, plain.GetNonce());
        StampReading.Check(authority.Reply(asked.Encode()), Note, trust, asked);
        var fault = Assert.Throws<StampFaultException>(() => StampReading.Check(authority.Reply(plain.Encode()), Note, trust, asked));
        Assert.Equal("its stamp is under the policy 1.2.3.4.1, not the 1.2.3.4.5 that was asked for", fault.Message);
    }

    [Fact]
    public async Task A_stamp_by_an_authority_that_nobody_trusts_is_refused()
    {
        await using var authority = new HouseAuthority();
        await using var other = new HouseAuthority();
        using var trust = Trust(other);
        var answer = authority.StampOver(Note);
        var fault = Assert.Throws<StampFaultException>(() => StampReading.Check(answer, Note, trust));
        Assert.Equal("none of the trusted certificates vouches for the authority's", fault.Message);
    }

    [Fact]
    public async Task A_certificate_that_has_run_out_makes_no_stamp()
    {
        await using var authority = new HouseAuthority(signedUntil: DateTimeOffset.UtcNow.AddDays(-1));
        using var trust = Trust(authority);
        Assert.Equal("the certificate that made the stamp was out of date at that moment", Fault(authority.StampOver(Note), trust));
        await using var rootless = new HouseAuthority(rootUntil: DateTimeOffset.UtcNow.AddDays(-1));
        using var former = Trust(rootless);
        Assert.Equal("a certificate that vouches for the authority was out of date at that moment", Fault(rootless.StampOver(Note), former));
    }

    // RFC 3161, 2.3: the extension is critical and names id-kp-timeStamping, nothing else.
    [Fact]
    public void Only_a_certificate_for_time_stamps_alone_makes_one()
    {
        Assert.NotNull(StampReading.Check(StampByHand.Over(Note), Note, trust: null));
        const string Purpose = "the certificate that made the stamp is not one for time stamps alone";
        Assert.Equal(Purpose, Fault(StampByHand.Over(Note, critical: false)));
        Assert.Equal(Purpose, Fault(StampByHand.Over(Note, more: "1.3.6.1.5.5.7.3.1")));
    }

    // Whatever bit is flipped, what is still taken for a stamp says the same; nothing but a refusal comes out.
    [Fact]
    public async Task A_bit_flipped_anywhere_is_refused_or_alters_nothing_that_it_says()
    {
        await using var authority = new HouseAuthority();
        using var trust = Trust(authority);
        var answer = authority.StampOver(Note);
        var good = StampReading.Check(answer, Note, trust);
        var refused = 0;
        for (var at = 0; at < answer.Length; at += 3)
        {
            byte[] altered = [.. answer];
            altered[at] ^= (byte)(1 << (at % 8));
            try
            {
                Assert.Equal(good, StampReading.Check(altered, Note, trust));
            }
            catch (StampFaultException)
            {
                refused++;
            }
        }
        Assert.True(refused > answer.Length / 6, $"{refused} of {answer.Length / 3}");
    }

    // The answer that lies with the project's reference data: made another day, by another run of openssl.
    [Fact]
    public void The_reference_answer_holds_over_the_root_that_it_was_made_over()
    {
        using var trust = StampTrust.Read(Reference.At("integrity/rfc3161-selfmade/ca.pem"), out _);
        var root = Convert.FromBase64String("XcnaeacGWamtVZy3Ad7ZoqudgjqtL0lgz+Nw7/RgQyg=");
        var stamp = StampReading.Check(File.ReadAllBytes(Reference.At("integrity/rfc3161-selfmade/r.tsr")), root, trust);
        Assert.True(stamp.IsTrusted);
    }

    private static Rfc3161TimestampRequest Request(string? policy = null, ReadOnlyMemory<byte>? nonce = null) =>
        Rfc3161TimestampRequest.CreateFromData(Note, HashAlgorithmName.SHA256, policy is null ? null : new Oid(policy),
            nonce ?? RandomNumberGenerator.GetBytes(16), requestSignerCertificates: true);

    private static string Fault(byte[] answer, StampTrust? trust = null) =>
        Assert.Throws<StampFaultException>(() => StampReading.Check(answer, Note, trust)).Message;

    private static StampTrust Trust(HouseAuthority authority) =>
        StampTrust.Read(authority.RootFile, out var reason) ?? throw new InvalidOperationException(reason);
}
