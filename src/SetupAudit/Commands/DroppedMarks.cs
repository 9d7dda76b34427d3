using System.Buffers;
using System.Runtime.CompilerServices;
using System.Text;
using System.Text.Json;
using SetupAudit.Shapes;
using SetupAudit.Store;
using SetupAudit.Store.Retention;

namespace SetupAudit.Commands;

/// <summary>
/// Says of each arrival when its bytes were dropped; null where they are kept. It is no part of the row that the record
/// seals, for the row is of what arrived.
/// </summary>
internal static class DroppedMarks
{
    private const int AtOnce = 500;

    public static async IAsyncEnumerable<ListRow> AddAsync(
        IAsyncEnumerable<ListRow> rows, StoreReader store, [EnumeratorCancellation] CancellationToken token)
    {
        var isAny = (await store.Prunings.AllAsync(token)).Count > 0;
        await foreach (var some in rows.Chunk(AtOnce).WithCancellation(token))
        {
            var known = some.Select(row => ShapeBody.Read<ArrivalView>(row.Body).Sha256).ToList();
            var dropped = isAny ? await store.Prunings.DroppedAsync(known, token) : None;
            for (var index = 0; index < some.Length; index++)
                yield return some[index] with
                {
                    Body = With(some[index].Body, dropped.GetValueOrDefault(known[index])),
                };
        }
    }

    private static IReadOnlyDictionary<string, StoredPruning> None { get; } = new Dictionary<string, StoredPruning>();

    private static string With(string row, StoredPruning? dropped)
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(buffer, ShapeBody.Compact))
        using (var body = JsonDocument.Parse(row))
        {
            json.WriteStartObject();
            foreach (var field in body.RootElement.EnumerateObject())
            {
                json.WritePropertyName(field.Name);
                json.WriteRawValue(field.Value.GetRawText());
            }
            json.WriteString("dropped", dropped is null ? null : Word.Of(dropped.AtUtc));
            json.WriteEndObject();
        }
        return Encoding.UTF8.GetString(buffer.WrittenSpan);
    }
}
