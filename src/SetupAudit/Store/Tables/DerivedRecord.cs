using System.Data.Common;
using System.Security.Cryptography;

namespace SetupAudit.Store.Tables;

/// <summary>Compares what is derived with what is recorded, and appends only the differences.</summary>
internal sealed class DerivedRecord : IDisposable
{
    private const int IdsAtOnce = 500;

    private static readonly DerivedKind[] AllKinds = Enum.GetValues<DerivedKind>();

    private readonly Dictionary<(string Machine, DerivedKind Kind), RecordedRows> _rows = [];
    private readonly IncrementalHash _hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);

    /// <summary>Forgets what was in view, as after a transaction that did not come through.</summary>
    public void Forget() => _rows.Clear();

    public void Dispose() => _hash.Dispose();

    /// <summary>Appends new and changed rows, and withdrawals of those that are no longer given.</summary>
    public async Task<IReadOnlyList<DerivedChange>> ReplaceAsync(
        DbTransaction transaction, DerivedBatch batch, DateTimeOffset nowUtc, CancellationToken token)
    {
        var kinds = batch.Kinds is null ? AllKinds : [.. batch.Kinds.Order()];
        var given = Given(batch, kinds);
        var (words, changes) = (new List<DerivedWord>(), new List<DerivedChange>());
        foreach (var kind in kinds)
        {
            var rows = await InViewAsync(transaction, batch, kind, token);
            foreach (var word in given[kind].Values.Where(word => !rows.Says(word, _hash)))
            {
                words.Add(word);
                changes.Add(await StepAsync(transaction, word, rows.Holds(word.Key.Id), token));
            }
            foreach (var id in rows.IdsOf(batch.ScopeFromUtc, batch.ScopeBeforeUtc)
                .Where(id => !given[kind].ContainsKey(id)))
            {
                var key = new DerivedKey(batch.Machine, kind, id);
                var former = await DerivedTable.NewestAsync(transaction, key, token)
                    ?? throw new InvalidOperationException($"no row of {key} is recorded");
                words.Add(former with { Body = null, Withdrawn = batch.WithdrawnBecause });
                changes.Add(new DerivedChange(kind, id, DerivedStep.Withdrawn, former.Body, null));
            }
        }
        await AppendAsync(transaction, words, nowUtc, token);
        return changes;
    }

    /// <summary>Appends rows that say something else than the newest of their id; withdraws nothing.</summary>
    public async Task PutAsync(
        DbTransaction transaction, IEnumerable<DerivedWord> given, DateTimeOffset nowUtc, CancellationToken token)
    {
        var words = new List<DerivedWord>();
        foreach (var kind in given.GroupBy(word => (word.Key.Machine, word.Key.Kind)))
            foreach (var some in kind.Chunk(IdsAtOnce))
            {
                var ids = some.Select(word => word.Key.Id).Distinct(StringComparer.Ordinal).ToList();
                var (machine, of) = kind.Key;
                var newest = (await DerivedTable.NewestAsync(transaction, machine, of, ids, token)).ToHashSet();
                words.AddRange(some.Where(word => !newest.Contains(word)));
            }
        await AppendAsync(transaction, words, nowUtc, token);
    }

    private async Task AppendAsync(
        DbTransaction transaction, List<DerivedWord> words, DateTimeOffset nowUtc, CancellationToken token)
    {
        if (words.Count == 0) return;
        var number = await DerivedTable.BeginBatchAsync(transaction, nowUtc, token);
        await DerivedTable.InsertAsync(transaction, number, words, token);
        foreach (var word in words)
            if (_rows.TryGetValue((word.Key.Machine, word.Key.Kind), out var rows)) rows.Take(word, _hash);
    }

    private static Dictionary<DerivedKind, Dictionary<string, DerivedWord>> Given(
        DerivedBatch batch, DerivedKind[] kinds)
    {
        var given = kinds.ToDictionary(kind => kind, _ => new Dictionary<string, DerivedWord>(StringComparer.Ordinal));
        foreach (var row in batch.Rows)
        {
            if (row.ScopeUtc < batch.ScopeFromUtc || row.ScopeUtc >= batch.ScopeBeforeUtc)
                throw new ArgumentException($"{row.Kind} {row.Id} lies outside the scope replaced", nameof(batch));
            if (!given.TryGetValue(row.Kind, out var ofKind))
                throw new ArgumentException($"{row.Kind} is not among the kinds that are replaced", nameof(batch));
            if (!ofKind.TryAdd(row.Id, DerivedWord.Of(batch.Machine, row)))
                throw new ArgumentException($"{row.Kind} {row.Id} is given twice", nameof(batch));
        }
        return given;
    }

    private async Task<RecordedRows> InViewAsync(
        DbTransaction transaction, DerivedBatch batch, DerivedKind kind, CancellationToken token)
    {
        var (machine, fromUtc) = (batch.Machine, batch.ScopeFromUtc);
        if (!_rows.TryGetValue((machine, kind), out var rows)) _rows[(machine, kind)] = rows = new RecordedRows();
        if (rows.Covers(fromUtc))
        {
            if (batch.ScopeBeforeUtc is null) rows.Narrow(fromUtc);
            return rows;
        }
        // A stretch of the past is compared by itself; only what is live stays in view.
        if (batch.ScopeBeforeUtc is { } before)
            return new RecordedRows(
                fromUtc, await DerivedTable.HoldsAsync(transaction, machine, kind, fromUtc, before, token), _hash);
        DateTimeOffset? known = rows.FromUtc == DateTimeOffset.MaxValue ? null : rows.FromUtc;
        rows.Extend(fromUtc, await DerivedTable.HoldsAsync(transaction, machine, kind, fromUtc, known, token), _hash);
        return rows;
    }

    private static async Task<DerivedChange> StepAsync(
        DbTransaction transaction, DerivedWord word, bool holds, CancellationToken token)
    {
        var newest = holds ? null : await DerivedTable.NewestAsync(transaction, word.Key, token);
        // What is not in view may still hold, recorded under an earlier scope.
        var step = holds || newest?.Body is not null ? DerivedStep.Changed
            : newest is null ? DerivedStep.Raised
            : DerivedStep.RaisedAgain;
        var former = step == DerivedStep.Raised ? null : await DerivedTable.LastBodyAsync(transaction, word.Key, token);
        return new DerivedChange(word.Key.Kind, word.Key.Id, step, former, word.Body);
    }
}
