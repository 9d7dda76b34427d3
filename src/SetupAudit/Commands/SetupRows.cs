using SetupAudit.Shapes;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>Puts the head of a setup together with the rows that belong to it.</summary>
internal static class SetupRows
{
    public static async Task<SetupDocument> ReadAsync(
        StoreReader store, StoredDerived head, CancellationToken token) => new(
        ShapeBody.Read<SetupView>(head.Body),
        await RowsAsync<MeasurementView>(store, DerivedKind.Measurement, head, token),
        await RowsAsync<ChangeView>(store, DerivedKind.Change, head, token),
        await RowsAsync<CycleView>(store, DerivedKind.Cycle, head, token),
        await RowsAsync<FindingView>(store, DerivedKind.Finding, head, token));

    /// <summary>The whole setup as JSON on one line.</summary>
    public static async Task<string> DocumentAsync(StoreReader store, StoredDerived head, CancellationToken token) =>
        ShapeBody.Of(await ReadAsync(store, head, token));

    private static async Task<IReadOnlyList<T>> RowsAsync<T>(
        StoreReader store, DerivedKind kind, StoredDerived head, CancellationToken token)
        where T : IShape<T>
    {
        var rows = new List<T>();
        await foreach (var row in store.DerivedAsync(new DerivedQuery { Kind = kind, Setup = head.Id }, token))
            rows.Add(ShapeBody.Read<T>(row.Body));
        return rows;
    }
}
