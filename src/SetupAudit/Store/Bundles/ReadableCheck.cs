using System.Text;
using System.Text.Json;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Store.Bundles;

/// <summary>
/// Compares what a person reads of the setup, as JSON, with the rows that the record seals: each thing it says must be
/// a sealed row, value by value.
/// </summary>
internal sealed class ReadableCheck(FaultList faults)
{
    // Columns of a derived row as they are sealed: seq, machine, kind, id, scope, at, setup, body, withdrawn, batch.
    private const int KindAt = 2;
    private const int IdAt = 3;
    private const int BodyAt = 7;

    private static readonly (string List, string Kind)[] Lists =
    [
        ("measurements", "measurement"), ("changes", "change"), ("adjustments", "change"), ("cycles", "cycle"),
        ("findings", "finding"),
    ];

    private readonly Dictionary<(string Kind, string Id), string?> _newest = [];
    private readonly Dictionary<(string Kind, string Text), JsonElement> _bodies = [];
    private readonly HashSet<string> _shown = new(StringComparer.Ordinal);

    /// <summary>
    /// How many rows hold by the seals and are not shown so; null where it could not be compared.
    /// </summary>
    /// <param name="rows">The sealed bytes, in the order of their entries.</param>
    public long? Run(IEnumerable<byte[]> rows, byte[] setup)
    {
        foreach (var bytes in rows)
            if (RowText.Read(bytes) is not { } read || !read.All(Take)) return null;
        try
        {
            using var document = JsonDocument.Parse(setup);
            Compare(document.RootElement);
        }
        catch (Exception fault) when (fault is JsonException or InvalidOperationException or KeyNotFoundException)
        {
            faults.Add(FaultCode.BundleDiffers, $"{BundleNames.Setup} is not written as a setup is");
        }
        return _newest.Values.Count(body => body is not null && !_shown.Contains(body));
    }

    private bool Take(IReadOnlyList<string?> row)
    {
        if (row.Count <= BodyAt || row[KindAt] is not { } kind || row[IdAt] is not { } id) return false;
        if (row[BodyAt] is not { } body)
        {
            _newest[(kind, id)] = null;
            return true;
        }
        using var document = JsonDocument.Parse(body);
        var text = Text(document.RootElement);
        _newest[(kind, id)] = text;
        _bodies[(kind, text)] = document.RootElement.Clone();
        return true;
    }

    private void Compare(JsonElement setup)
    {
        Find("setup", setup, BundleNames.Setup);
        foreach (var (list, kind) in Lists)
            foreach (var element in setup.GetProperty(list).EnumerateArray())
                Find(kind, element, $"{BundleNames.Setup}, in {list},");
    }

    private void Find(string kind, JsonElement element, string where)
    {
        var found = _bodies.ContainsKey((kind, Text(element)))
            ? Text(element)
            : _bodies.Where(body => body.Key.Kind == kind && Covers(element, body.Value))
                .Select(body => body.Key.Text).LastOrDefault();
        if (found is not null) _shown.Add(found);
        else
            faults.Add(FaultCode.BundleDiffers, $"{where} says what no sealed row of the kind {kind} says");
    }

    // A later version may write more of a row than it was sealed with, as long as it says nothing by it.
    private static bool Covers(JsonElement element, JsonElement body) =>
        body.EnumerateObject().All(member => element.TryGetProperty(member.Name, out var there)
            && Text(there) == Text(member.Value));

    private static string Text(JsonElement element)
    {
        using var bytes = new MemoryStream();
        using (var json = new Utf8JsonWriter(bytes)) element.WriteTo(json);
        return Encoding.UTF8.GetString(bytes.ToArray());
    }
}
