using System.Data.Common;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Segments;

/// <summary>
/// Where the segments stand by the rows, and which of them were emptied: all that lay in those was dropped or moved,
/// which is committed, and their files may go. A process that died before it took them away leaves that to the next.
/// </summary>
/// <param name="Last">The kept bytes that lie last in the segments; null where none are.</param>
/// <param name="Highest">The highest number that a row names or has named: none is ever given again.</param>
/// <param name="Emptied">Those that are there, and that no kept bytes lie in.</param>
internal sealed record SegmentStanding(BlobPlace? Last, int Highest, IReadOnlyList<int> Emptied)
{
    /// <summary>That of a new store.</summary>
    public static SegmentStanding Nothing { get; } = new(null, 0, []);

    public static async Task<SegmentStanding> OfAsync(
        DbConnection connection, EvidenceFolder folder, CancellationToken token)
    {
        var emptied = new List<int>();
        if (await BlobTable.AnyDroppedAsync(connection, token))
            foreach (var segment in folder.Segments())
                if (!await BlobTable.HoldsAsync(connection, segment, token)) emptied.Add(segment);
        return new SegmentStanding(await BlobTable.LastAsync(connection, token),
            await BlobTable.HighestAsync(connection, token), emptied);
    }

    /// <summary>Takes the files of emptied segments away.</summary>
    /// <param name="onGone">Called after each, for tests that stop there.</param>
    public void TakeAway(EvidenceFolder folder, Action? onGone = null)
    {
        foreach (var segment in Emptied)
        {
            File.Delete(folder.SegmentPath(segment));
            onGone?.Invoke();
        }
        if (Emptied.Count > 0 && !OperatingSystem.IsWindows() && !Posix.FlushFolder(folder.Folder))
            throw new IOException($"The folder {folder.Folder} could not be flushed to disk.");
    }
}
