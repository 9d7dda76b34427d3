using System.Data.Common;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Serilog;
using SetupAudit.Records;
using SetupAudit.Store.Keeping;
using SetupAudit.Store.Stamps;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Records;

/// <summary>
/// Opens the record of a store, or begins it. What cannot be gone on from is refused with what a person must do: a
/// second history is never signed.
/// </summary>
internal static class RecordHome
{
    private const string KeyName = "record.key";
    private const int LongestShop = 40;
    private const int RandomBytes = 8;

    private const string DoNext = "Nothing was written. Run 'verify' to see which entry is the first that is wrong, "
        + "keep this folder as it is for whoever looks into it, and go on from a backup that verifies.";

    /// <summary>The sequencer of a store that its caller holds the lock of, and the store's anchor file.</summary>
    public static async Task<(RecordSequencer Sequencer, AnchorFile Anchor)> OpenAsync(
        DbConnection connection, string folder, RecordOptions options, CancellationToken token)
    {
        var anchor = new AnchorFile(Path.Combine(folder, AnchorFile.FileName));
        var last = await CheckpointTable.LastAsync(connection, token);
        var seals = await RowSeals.OpenAsync(connection, token);
        if (last is null)
        {
            if (await EntryTable.CountAsync(connection, token) > 0)
                throw Wrong(folder, "its record has entries and no checkpoint");
            if (anchor.Last() is not null)
                throw Wrong(folder, $"{AnchorFile.FileName} holds checkpoints of a record that is not in the database");
            if (StampFolder.OfStore(folder).Sizes().Count > 0)
                throw Wrong(folder, $"{StampFolder.Name} holds time stamps of a record that is not in the database");
            RequireNoneBefore(folder, options);
            return (Begin(folder, options, seals), anchor);
        }
        var identity = await IdentityAsync(connection, folder, options, last, token);
        var range = await RangeAsync(connection, folder, last, token);
        // What a newer program has just added to the tables is noted there, and sealed with what is written next: each
        // such row was compared with the program's own texts before.
        var unsealed = (await seals.UnsealedAsync(connection, token))
            .Where(one => one.Table != MigrationSet.TableName).ToList();
        if (unsealed.Count > 0)
            throw Wrong(folder, $"the table {unsealed[0].Table} holds rows from {unsealed[0].First} on that no entry "
                + "of the record covers: something else than this program wrote there");
        await AnchorChecks.RequireAsync(connection, anchor, identity.Origin, last, token);
        return (new RecordSequencer(identity, range, seals, last.ToNote(identity.Origin)), anchor);
    }

    /// <summary>Where the key of a record lies.</summary>
    public static string KeyPath(string folder, RecordOptions options) =>
        options.KeyFile ?? Path.Combine(folder, KeyName);

    /// <summary>
    /// Throws where checkpoints off the computer know of an earlier record than one that would begin.
    /// </summary>
    // Several shops may keep their checkpoints in one folder; those of this one have its name. Where a record was set
    // aside, a person has decided that a new one begins, and said why.
    public static void RequireNoneBefore(string folder, RecordOptions options)
    {
        if (options.OffBoxFolder is not { } offBox || !Directory.Exists(offBox)) return;
        if (RecordRestart.HasBeen(folder)) return;
        var (start, end) = (NamePart(options.Shop).Replace('/', '-'), "." + AnchorFile.FileName);
        var earlier = Directory.EnumerateFiles(offBox, $"{start}*{end}").Order(StringComparer.Ordinal)
            .FirstOrDefault(path => IsMadeUp(Path.GetFileName(path)[start.Length..^end.Length]));
        if (earlier is not null)
            throw new StoreException(StoreFaultKind.Final, $"There is no record in {folder}, and {earlier} holds "
                + "checkpoints of an earlier one of this shop: a new record is not begun in its place unseen. Put the "
                + "newest copy of the store back with 'restore --from DIR' (with --new-record where it cannot be gone "
                + "on with). Where no copy is left, or that file belongs to another shop of the same name, move it "
                + "into a folder of its own, keep it for whoever asks, and start again.");
    }

    private static bool IsMadeUp(string end) => end.Length == 2 * RandomBytes && end.All(char.IsAsciiHexDigitLower);

    private static RecordSequencer Begin(string folder, RecordOptions options, RowSeals seals)
    {
        var path = KeyPath(folder, options);
        var origin = NewOrigin(options.Shop);
        // A key without a record is one that a crash left before the first entry, or that the user made.
        var key = File.Exists(path) ? RecordKey.Load(path, origin) : RecordKey.Create(path, origin);
        Log.Information("A new record begins in {Folder}: {Origin}, signed with the key {Key}", folder, origin,
            key.Verifier);
        return new RecordSequencer(new RecordIdentity(origin, key), new CompactRange(), seals, null);
    }

    private static async Task<RecordIdentity> IdentityAsync(DbConnection connection, string folder,
        RecordOptions options, StoredCheckpoint last, CancellationToken token)
    {
        var first = await EntryTable.PageAsync(connection, 0, 1, 1, token);
        if (first.Count == 0 || RecordBody.Read(first[0].Body) is not { Kind: RecordKind.Begin } begin)
            throw Wrong(folder, "the record does not begin with its first entry");
        var path = KeyPath(folder, options);
        return last.ToNote(begin.Origin) is { } note && KeyRotation.InForce(path, begin.Origin, note) is { } key
            ? new RecordIdentity(begin.Origin, key)
            : throw Wrong(folder, $"its last checkpoint is not signed by the key in {path} (a copy from before the key "
                + "was changed is read and verified as ever; only 'restore --new-record' goes on from it)");
    }

    // The kept frontier saves a walk over all entries; where it is missing or wrong the entries are walked.
    private static async Task<CompactRange> RangeAsync(
        DbConnection connection, string folder, StoredCheckpoint last, CancellationToken token)
    {
        var root = TreeHash.From(last.Root);
        if (await EntryTable.CountAsync(connection, token) != last.Size)
            throw Wrong(folder, string.Create(CultureInfo.InvariantCulture,
                $"its last checkpoint is over {last.Size} entries, and it holds another number of them"));
        if (CompactRange.TryRead(await FrontierTable.GetAsync(connection, token), out var kept)
            && kept.Size == last.Size && kept.Root() == root)
            return kept;
        var range = new CompactRange();
        await foreach (var leaf in EntryTable.LeavesAsync(connection, 0, last.Size).WithCancellation(token))
            range.Append(TreeHash.From(leaf));
        return range.Size == last.Size && range.Root() == root
            ? range
            : throw Wrong(folder, "its entries are not those that its last checkpoint was signed over");
    }

    private static string NewOrigin(string shop) =>
        NamePart(shop) + Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(RandomBytes));

    // Unlike every other record, so that an entry of one cannot be passed off as one of another.
    private static string NamePart(string shop)
    {
        var plain = string.Concat(shop.Normalize(NormalizationForm.FormD).ToLowerInvariant()
            .Where(letter => char.IsAsciiLetterOrDigit(letter) || letter is ' ' or '-')
            .Select(letter => letter == ' ' ? '-' : letter)).Trim('-');
        if (plain.Length == 0) plain = "shop";
        if (plain.Length > LongestShop) plain = plain[..LongestShop];
        return $"setupaudit/{plain}/";
    }

    private static StoreException Wrong(string folder, string what) =>
        new(StoreFaultKind.Final, $"The record in {folder} cannot be gone on with: {what}. {DoNext}");
}
