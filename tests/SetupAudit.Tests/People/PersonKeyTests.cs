using System.Text;
using NSec.Cryptography;

namespace SetupAudit.People;

public sealed class PersonKeyTests
{
    private static readonly byte[] Salt = [.. Enumerable.Range(1, 16).Select(number => (byte)number)];

    [Fact]
    public void The_same_password_makes_the_same_key_and_another_another()
    {
        using var key = PersonKey.Derive("four plain words do", Salt, 2, 19 * 1024);
        using var same = PersonKey.Derive("four plain words do", Salt, 2, 19 * 1024);
        using var other = PersonKey.Derive("four plain words dO", Salt, 2, 19 * 1024);
        Assert.True(same.Is(key.CheckKey));
        Assert.False(other.Is(key.CheckKey));
    }

    [Fact]
    public void However_it_is_typed_it_is_one_password()
    {
        using var key = PersonKey.Derive("señor at the bench", Salt, 2, 19 * 1024);
        using var typed = PersonKey.Derive("sen\u0303or at the bench", Salt, 2, 19 * 1024);
        Assert.True(typed.Is(key.CheckKey));
    }

    [Fact]
    public void Nothing_is_cut_off()
    {
        var words = string.Join(' ', Enumerable.Range(1, 200))[..250];
        using var key = PersonKey.Derive(words + "a", Salt, 2, 19 * 1024);
        using var other = PersonKey.Derive(words + "b", Salt, 2, 19 * 1024);
        Assert.False(other.Is(key.CheckKey));
    }

    [Fact]
    public void It_is_Argon2id_of_the_password_as_the_seed_of_an_Ed25519_key()
    {
        var argon = PasswordBasedKeyDerivationAlgorithm.Argon2id(
            new Argon2Parameters { DegreeOfParallelism = 1, MemorySize = 19 * 1024, NumberOfPasses = 2 });
        var seed = argon.DeriveBytes(Encoding.UTF8.GetBytes("four plain words do"), Salt, 32);
        using var expected = Key.Import(SignatureAlgorithm.Ed25519, seed, KeyBlobFormat.RawPrivateKey);
        using var key = PersonKey.Derive("four plain words do", Salt, 2, 19 * 1024);
        Assert.True(key.Is(expected.PublicKey.Export(KeyBlobFormat.RawPublicKey)));
    }

    [Fact]
    public void The_cost_is_no_less_than_is_asked_for_today()
    {
        // OWASP ASVS 5.0, appendix C: two passes over 19 MiB.
        Assert.True(PersonKey.Passes >= 2);
        Assert.True(PersonKey.MemoryKib >= 19 * 1024);
    }

    [Fact]
    public void A_signature_fits_one_text_and_one_key()
    {
        using var key = PersonKey.Derive("four plain words do", Salt, 2, 19 * 1024);
        using var other = PersonKey.Derive("another four words", Salt, 2, 19 * 1024);
        var signature = key.Sign("accepted");
        Assert.True(PersonKey.Signed("accepted", signature, key.CheckKey));
        Assert.False(PersonKey.Signed("rejected", signature, key.CheckKey));
        Assert.False(PersonKey.Signed("accepted", signature, other.CheckKey));
        Assert.False(PersonKey.Signed("accepted", [], key.CheckKey));
        Assert.False(PersonKey.Signed("accepted", signature, []));
    }
}
