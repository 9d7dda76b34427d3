using System.Security.Cryptography;
using SetupAudit.Records;

namespace SetupAudit.Store.Records;

/// <summary>
/// The files of a change of keys. The new key waits beside the old one until a checkpoint that both signed is
/// committed; then the old one is overwritten and the new one takes its name. A process that dies anywhere in between
/// is gone on from at the next start: the committed checkpoint tells which key is in force.
/// </summary>
internal static class KeyRotation
{
    private const string NextEnding = ".next";

    /// <summary>Makes the new key beside the old one, for its owner alone.</summary>
    public static RecordKey Prepare(string path, string origin)
    {
        if (new FileInfo(path).LinkTarget is not null)
            throw new StoreException(StoreFaultKind.Final, $"The record's key {path} is a link to another place. Give "
                + "Store.KeyFile the file itself, so that the old key can be overwritten where it lies.");
        File.Delete(path + NextEnding);
        return RecordKey.Create(path + NextEnding, origin);
    }

    /// <summary>
    /// The key that signed the newest checkpoint; a change that was broken off after it was committed is completed, and
    /// one that was not committed is forgotten. Null where neither key signed it.
    /// </summary>
    public static RecordKey? InForce(string path, string origin, SignedNote newest)
    {
        var next = path + NextEnding;
        if (File.Exists(next) && Signing(next, origin, newest) is { } committed)
        {
            committed.Dispose();
            PutInPlace(path, onStep: null);
            return RecordKey.Load(path, origin);
        }
        var own = Signing(path, origin, newest);
        if (own is null) return null;
        // A new key that no checkpoint names is nobody's, also where a crash left it unfinished.
        File.Delete(next);
        File.Delete(next + KeyFile.Unfinished);
        return own;
    }

    /// <summary>Destroys the old key as far as a program can, and gives its name to the new one.</summary>
    public static void PutInPlace(string path, Action<StoreStep>? onStep)
    {
        if (File.Exists(path)) Overwrite(path);
        onStep?.Invoke(StoreStep.KeyOverwritten);
        File.Move(path + NextEnding, path, overwrite: true);
        if (!OperatingSystem.IsWindows() && !Posix.FlushFolder(Path.GetDirectoryName(Path.GetFullPath(path)) ?? "/"))
            throw new IOException($"The folder of the record's key {path} could not be flushed to disk.");
        onStep?.Invoke(StoreStep.KeyReplaced);
    }

    /// <summary>What the record says of it.</summary>
    public static RecordWord Word(VerifierKey next, VerifierKey former, KeyOrder order) =>
        new(RecordKind.Key, Said.Of(json =>
        {
            json.WriteString("key", next.ToString());
            json.WriteString("former", former.ToString());
            json.WriteString("by", order.By);
            json.WriteString("reason", order.Reason);
            json.WriteString("account", order.Account);
        }));

    private static RecordKey? Signing(string path, string origin, SignedNote note)
    {
        var key = RecordKey.Load(path, origin);
        if (NoteSigning.Holds(note, [key.Verifier], out _, out _)) return key;
        key.Dispose();
        return null;
    }

    // In place, so that it reaches the blocks that held it where the file system writes in place.
    private static void Overwrite(string path)
    {
        using var file = File.OpenHandle(path, FileMode.Open, FileAccess.Write, FileShare.None);
        var length = (int)Math.Min(RandomAccess.GetLength(file), KeyFile.BytesMost);
        RandomAccess.Write(file, RandomNumberGenerator.GetBytes(length), 0);
        RandomAccess.FlushToDisk(file);
    }
}
