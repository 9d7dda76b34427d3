using System.Security.Cryptography;
using System.Text;
using NSec.Cryptography;

namespace SetupAudit.People;

/// <summary>
/// A person's own key, which only the password brings back: Argon2id makes of password and salt the seed of an Ed25519
/// key. Its public half is all that is kept to check a password by, and it checks what the person signed as well.
/// </summary>
public sealed class PersonKey : IDisposable
{
    public const int SaltBytes = 16;

    /// <summary>OWASP ASVS 5.0, appendix C: two passes over at least 19 MiB, in one lane.</summary>
    public const int Passes = 2;

    public const int MemoryKib = 64 * 1024;

    private readonly Key _key;

    private PersonKey(Key key) => _key = key;

    /// <summary>The public half.</summary>
    public byte[] CheckKey => _key.PublicKey.Export(KeyBlobFormat.RawPublicKey);

    public static byte[] NewSalt() => RandomNumberGenerator.GetBytes(SaltBytes);

    /// <summary>The key that a password makes, whether it is the right one or not.</summary>
    public static PersonKey Derive(string password, ReadOnlySpan<byte> salt, int passes, int memoryKib)
    {
        var bytes = Encoding.UTF8.GetBytes(PasswordRules.Normal(password));
        try
        {
            var argon = PasswordBasedKeyDerivationAlgorithm.Argon2id(new Argon2Parameters
            {
                DegreeOfParallelism = 1,
                MemorySize = memoryKib,
                NumberOfPasses = passes,
            });
            return new PersonKey(argon.DeriveKey(bytes, salt, SignatureAlgorithm.Ed25519));
        }
        finally
        {
            CryptographicOperations.ZeroMemory(bytes);
        }
    }

    /// <summary>Whether this is the key that belongs to a public half.</summary>
    public bool Is(ReadOnlySpan<byte> checkKey) => CryptographicOperations.FixedTimeEquals(CheckKey, checkKey);

    public byte[] Sign(string text) => SignatureAlgorithm.Ed25519.Sign(_key, Encoding.UTF8.GetBytes(text));

    /// <summary>Whether the owner of a public half signed a text. Does not throw.</summary>
    public static bool Signed(string text, ReadOnlySpan<byte> signature, ReadOnlySpan<byte> checkKey) =>
        PublicKey.TryImport(SignatureAlgorithm.Ed25519, checkKey, KeyBlobFormat.RawPublicKey, out var key)
        && key is not null && SignatureAlgorithm.Ed25519.Verify(key, Encoding.UTF8.GetBytes(text), signature);

    public void Dispose() => _key.Dispose();
}
