using System.Text;
using SetupAudit.Records;
using SetupAudit.Store.Records;

namespace SetupAudit.Store.Verifying;

/// <summary>Small acts and looks that the tests of tampering share.</summary>
internal static class Tampering
{
    public static async Task FoundAsync(RecordedStore store, string code, long? entry, long? verifiedTo, string says,
        VerifierKey? pinned = null, bool offBox = true)
    {
        var check = await store.CheckAsync(offBox, pinned);
        var found = check.Faults.FirstOrDefault(fault => fault.Code == code && fault.Text == says);
        Assert.True(found is not null, $"not said: {says}\nsaid: {string.Join("\nsaid: ", check.Faults)}");
        Assert.Equal(entry, found.Entry);
        if (verifiedTo is not null) Assert.Equal(verifiedTo, check.VerifiedTo);
        Assert.False(check.Holds);
    }

    public static (long Good, long Bad) Around(RecordedStore store, long number) =>
        (store.Sizes.Last(size => size <= number), store.Sizes.First(size => size > number));

    public static byte[] Edited(RecordedStore store, long number)
    {
        var text = Encoding.UTF8.GetString(store.Body(number));
        var edited = text.Replace("offsets/", "elsewhere/", StringComparison.Ordinal);
        Assert.NotEqual(text, edited);
        return Encoding.UTF8.GetBytes(edited);
    }

    public static void Sign(RecordedStore store, long size, params string[] keys)
    {
        var text = new Checkpoint(store.Origin, size, TreeHash.From((byte[])store.Ask($"SELECT root FROM checkpoint WHERE size = {size}"))).ToString();
        var lines = new List<NoteSignature>();
        foreach (var file in keys)
        {
            using var key = RecordKey.Load(file, store.Origin);
            lines.Add(key.Sign(text));
        }
        var note = new SignedNote(text, lines).ToString();
        store.Attack($"UPDATE checkpoint SET signed = '{note[(text.Length + 1)..]}' WHERE size = {size}");
    }

    public static void Execute(RecordedStore store, string sql)
    {
        using var connection = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={store.Database};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    public static int IndexOf(byte[] bytes, string word, int from)
    {
        var at = bytes.AsSpan(from).IndexOf(Encoding.UTF8.GetBytes(word));
        return at < 0 ? -1 : from + at;
    }

    public static List<string> Digests(string folder) =>
        [.. Directory.GetFiles(folder, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal)
            .Where(path => !path.EndsWith("-shm", StringComparison.Ordinal) && !path.EndsWith("-wal", StringComparison.Ordinal))
            .Select(path => $"{path} {TempStore.Hash(File.ReadAllBytes(path))}")];
}
