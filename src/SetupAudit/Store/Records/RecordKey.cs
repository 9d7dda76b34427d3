using NSec.Cryptography;
using SetupAudit.Records;

namespace SetupAudit.Store.Records;

/// <summary>
/// The private key that signs the checkpoints of a record: Ed25519, in a PEM file that openssl reads as well.
/// </summary>
internal sealed class RecordKey : IDisposable
{
    private static readonly KeyBlobFormat Pem = KeyBlobFormat.PkixPrivateKeyText;

    private readonly Key _key;

    private RecordKey(Key key, string name)
    {
        _key = key;
        Verifier = new VerifierKey(name, key.PublicKey.Export(KeyBlobFormat.RawPublicKey));
    }

    /// <summary>What its signatures are checked with; it may be shown to everyone.</summary>
    public VerifierKey Verifier { get; }

    /// <summary>
    /// Makes a key in a file that is not there yet, for its owner alone. The name is the origin of the record.
    /// </summary>
    public static RecordKey Create(string path, string name)
    {
        var policy = new KeyCreationParameters { ExportPolicy = KeyExportPolicies.AllowPlaintextExport };
        using (var made = Key.Create(SignatureAlgorithm.Ed25519, policy))
        {
            var text = made.Export(Pem);
            KeyFile.Create(path, text);
            Array.Clear(text);
        }
        return Load(path, name);
    }

    /// <summary>Reads a key; throws with a sentence where it is missing, open to others, or none.</summary>
    public static RecordKey Load(string path, string name)
    {
        var text = KeyFile.Read(path);
        try
        {
            return Key.TryImport(SignatureAlgorithm.Ed25519, text, Pem, out var key)
                && key is not null
                ? new RecordKey(key, name)
                : throw new StoreException(StoreFaultKind.Final,
                    $"The file {path} is no Ed25519 key in PEM (\"openssl genpkey -algorithm ed25519\" makes one).");
        }
        finally
        {
            Array.Clear(text);
        }
    }

    /// <summary>The line that this key puts under a text.</summary>
    public NoteSignature Sign(string text) => new(Verifier.Name, Verifier.KeyId,
        SignatureAlgorithm.Ed25519.Sign(_key, System.Text.Encoding.UTF8.GetBytes(text)));

    public void Dispose() => _key.Dispose();
}
