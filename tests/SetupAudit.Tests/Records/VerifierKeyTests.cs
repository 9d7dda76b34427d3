using CsCheck;

namespace SetupAudit.Records;

public sealed class VerifierKeyTests
{
    public static TheoryData<string> Published =>
    [
        .. Vectors.Of("signed-notes").Each("published").Select(vector => vector.Text("verifierKey")),
        Vectors.Of("signed-notes").Text("verifierKey"),
    ];

    [Theory, MemberData(nameof(Published))]
    public void A_published_key_is_read_and_written_back(string text)
    {
        Assert.True(VerifierKey.TryRead(text, out var key, out var reason), reason);
        Assert.Equal(text, key.ToString());
    }

    [Fact]
    public void A_key_is_known_by_the_hash_of_its_name_and_bytes()
    {
        var file = Vectors.Of("signed-notes");
        var key = new VerifierKey(file.Text("origin"), file.Bytes("publicKey"));
        Assert.Equal(file.Text("keyId"), key.KeyId.ToString("x8"));
        Assert.Equal(file.Text("verifierKey"), key.ToString());
    }

    // As golang/mod's note tests do: neither a piece of a key nor one with a byte made larger by one may pass.
    [Theory, MemberData(nameof(Published))]
    public void Every_piece_of_a_key_and_every_mistyped_letter_is_refused(string text)
    {
        for (var from = 0; from < text.Length; from++)
        {
            for (var end = from; end <= text.Length; end++)
                if (end - from != text.Length)
                    Assert.False(VerifierKey.TryRead(text[from..end], out _, out _), text[from..end]);
            var mistyped = text[..from] + (char)(text[from] + 1) + text[(from + 1)..];
            Assert.False(VerifierKey.TryRead(mistyped, out _, out _), mistyped);
        }
    }

    [Theory]
    [InlineData("example.com/foo", "a key is written NAME+ID+BASE64")]
    [InlineData("+530d903a+AekyeRrm56hApGFkyQR4ZCbV54Id2LKaANYcrnKv3U2k", "its name is not a name")]
    [InlineData("example.com/foo+530D903A+AekyeRrm56hApGFkyQR4ZCbV54Id2LKaANYcrnKv3U2k", "its id is not 8 hexadecimal digits")]
    [InlineData("example.com/foo+530d903a+AekyeRrm", "an Ed25519 key has 32 bytes")]
    [InlineData("example.com/foo+530d903a+", "its key is not base64")]
    [InlineData("example.com/foo+530d903a+AukyeRrm56hApGFkyQR4ZCbV54Id2LKaANYcrnKv3U2k", "its kind 2 is not known: this program knows Ed25519, kind 1")]
    [InlineData("example.com/fop+530d903a+AekyeRrm56hApGFkyQR4ZCbV54Id2LKaANYcrnKv3U2k", "its id is not that of its name and key: a letter may be mistyped")]
    public void What_is_no_key_is_refused_with_what_is_wrong(string text, string expected)
    {
        Assert.False(VerifierKey.TryRead(text, out _, out var reason));
        Assert.Equal(expected, reason);
    }

    [Theory]
    [InlineData("", false), InlineData("a b", false), InlineData("a+b", false), InlineData("a\u00a0b", false)]
    [InlineData("a\nb", false), InlineData("a\u007fb", false), InlineData("a\ud800b", false)]
    [InlineData("harrow-lane/record", true), InlineData("Čeněk/μ", true)]
    public void A_name_has_no_blank_no_control_and_no_plus(string name, bool isOne)
    {
        Assert.Equal(isOne, KeyName.IsOne(name));
        if (!isOne) Assert.Throws<ArgumentException>(() => new VerifierKey(name, new byte[32]));
    }

    [Fact]
    public void Whatever_is_written_is_read_back() =>
        Gen.Byte.Array[32].Sample(bytes =>
            VerifierKey.TryRead(new VerifierKey("harrow-lane/record", bytes).ToString(), out var key, out _)
            && key.PublicKey == TreeHash.From(bytes), iter: 200);
}
