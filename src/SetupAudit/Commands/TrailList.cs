using System.Runtime.CompilerServices;
using System.Text.Json;
using SetupAudit.Records;
using SetupAudit.Shapes;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>
/// Everything done by people, out of the record itself: reviews, people, sign-ins, exports, quiet times, starts and
/// stops, changes of the configuration, keys and copies.
/// </summary>
internal sealed class TrailList(ListRequest request, StoreReader store)
{
    private static readonly RecordKind[] Kinds =
    [
        RecordKind.Begin, RecordKind.Review, RecordKind.Person, RecordKind.SignIn, RecordKind.Configuration,
        RecordKind.Start, RecordKind.Stop, RecordKind.Export, RecordKind.Key, RecordKind.Keeping, RecordKind.Alert,
    ];

    public async IAsyncEnumerable<ListRow> RowsAsync([EnumeratorCancellation] CancellationToken token)
    {
        // A person is added before anything else is said of them; a name may change, a person's number does not.
        var names = new Dictionary<string, string>(StringComparer.Ordinal);
        await foreach (var entry in store.EntriesAsync(Kinds, token))
        {
            if (entry.Kind == RecordKind.Person) Learn(entry, names);
            if (entry.AtUtc < request.SinceUtc || entry.AtUtc > request.UntilUtc) continue;
            using var said = JsonDocument.Parse(entry.Said);
            // Alerts go out by themselves; a person stands behind those that name one.
            if (entry.Kind == RecordKind.Alert && Text(said.RootElement, "by") is null) continue;
            if (request.Machine is not null && Text(said.RootElement, "machine") != request.Machine) continue;
            var line = new TrailLine(entry, said.RootElement, Tried(said.RootElement, names));
            yield return new ListRow(ShapeBody.Of(line), null);
        }
    }

    private static void Learn(RecordBody entry, Dictionary<string, string> names)
    {
        using var said = JsonDocument.Parse(entry.Said);
        if (Text(said.RootElement, "person") is { } person && Text(said.RootElement, "name") is { } name)
            names[person] = name;
    }

    private static string? Tried(JsonElement said, Dictionary<string, string> names) =>
        Text(said, "outcome") is not null && Text(said, "person") is { } person
            ? names.GetValueOrDefault(person, person) : null;

    internal static string? Text(JsonElement said, string name) =>
        said.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString() : null;
}
