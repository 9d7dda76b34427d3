using System.Text;
using SetupAudit.Records;

namespace SetupAudit.Store;

/// <summary>A checkpoint as it is kept.</summary>
public sealed class StoredCheckpoint
{
    /// <summary>How many entries it covers.</summary>
    public required long Size { get; init; }

    public required byte[] Root { get; init; }

    /// <summary>Its signature lines, which stand under the text that origin, size and root make.</summary>
    public required string Signed { get; init; }

    internal static StoredCheckpoint Of(Checkpoint checkpoint, SignedNote note) => new()
    {
        Size = checkpoint.Size,
        Root = checkpoint.Root.ToArray(),
        Signed = note.ToString()[(note.Text.Length + 1)..],
    };

    /// <summary>The whole note, as it stands in the anchor file; null where the signature lines are none.</summary>
    internal SignedNote? ToNote(string origin) => SignedNote.TryRead(Encoding.UTF8.GetBytes(
        $"{new Checkpoint(origin, Size, TreeHash.From(Root))}\n{Signed}"), out var note, out _) ? note : null;
}
