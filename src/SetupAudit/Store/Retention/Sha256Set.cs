using System.Collections;

namespace SetupAudit.Store.Retention;

/// <summary>
/// SHA-256 values in their order, each once, 32 bytes each: what goes may be all that a shop has kept in years.
/// </summary>
public sealed class Sha256Set : IReadOnlyCollection<string>
{
    private const int Size = 32;
    private const int FirstRoom = 1024;

    private readonly byte[] _bytes;

    private Sha256Set(byte[] bytes, int count) => (_bytes, Count) = (bytes, count);

    public int Count { get; }

    public static Sha256Set Of(IEnumerable<string> sha256s)
    {
        var sorted = sha256s.Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToList();
        return new Sha256Set([.. sorted.SelectMany(Convert.FromHexString)], sorted.Count);
    }

    /// <summary>Of values that come in their order, each once.</summary>
    internal static async Task<Sha256Set> OfSortedAsync(IAsyncEnumerable<string> sha256s, CancellationToken token)
    {
        var bytes = new byte[FirstRoom * Size];
        var count = 0;
        await foreach (var sha256 in sha256s.WithCancellation(token))
        {
            if ((count + 1) * Size > bytes.Length) Array.Resize(ref bytes, bytes.Length * 2);
            Convert.FromHexString(sha256).CopyTo(bytes, count++ * Size);
        }
        Array.Resize(ref bytes, count * Size);
        return new Sha256Set(bytes, count);
    }

    public bool Contains(string sha256)
    {
        var wanted = Convert.FromHexString(sha256);
        var (from, to) = (0, Count);
        while (from < to)
        {
            var middle = from + ((to - from) / 2);
            switch (At(middle).SequenceCompareTo(wanted))
            {
                case 0: return true;
                case < 0:
                    from = middle + 1;
                    break;
                default:
                    to = middle;
                    break;
            }
        }
        return false;
    }

    public IEnumerator<string> GetEnumerator()
    {
        for (var index = 0; index < Count; index++) yield return Convert.ToHexStringLower(At(index));
    }

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();

    private ReadOnlySpan<byte> At(int index) => _bytes.AsSpan(index * Size, Size);
}
