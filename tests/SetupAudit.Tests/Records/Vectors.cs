using System.Text.Json;
using SetupAudit.Support;

namespace SetupAudit.Records;

/// <summary>The published vectors below fixtures/records; each file names its source.</summary>
internal static class Vectors
{
    public static JsonElement Of(string name) =>
        JsonDocument.Parse(File.ReadAllBytes(Repository.At($"fixtures/records/{name}.json"))).RootElement;

    public static IReadOnlyList<JsonElement> Each(this JsonElement file, string list) =>
        [.. file.GetProperty(list).EnumerateArray()];

    public static string Text(this JsonElement vector, string name) =>
        vector.GetProperty(name).GetString() ?? throw new InvalidDataException($"{name} is null");

    public static byte[] Bytes(this JsonElement vector, string name) => Convert.FromHexString(vector.Text(name));

    public static bool TryHash(this JsonElement vector, string name, out TreeHash hash) =>
        TreeHash.TryRead(vector.Bytes(name), out hash);

    public static TreeHash Hash(string hexadecimal) => TreeHash.From(Convert.FromHexString(hexadecimal));

    public static IReadOnlyList<TreeHash> Hashes(this JsonElement vector, string name) =>
        [.. vector.Each(name).Select(hash => Hash(hash.GetString() ?? ""))];

    /// <summary>The hashes of a proof; false where one has not 32 bytes.</summary>
    public static bool TryProof(this JsonElement vector, out IReadOnlyList<TreeHash> proof)
    {
        var hashes = vector.Each("proof").Select(hash => Convert.FromHexString(hash.GetString() ?? "")).ToList();
        var right = hashes.Where(bytes => TreeHash.TryRead(bytes, out _)).ToList();
        proof = [.. right.Select(bytes => TreeHash.From(bytes))];
        return right.Count == hashes.Count;
    }
}
