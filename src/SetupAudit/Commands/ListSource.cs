using System.Runtime.CompilerServices;
using System.Text.Json;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>Brings the rows of a list out of the record and the configuration.</summary>
internal sealed class ListSource : IDisposable
{
    private readonly ListRequest _request;
    private readonly StoreReader? _store;

    private readonly DateTimeOffset _nowUtc;

    private ListSource(ListRequest request, StoreReader? store, DateTimeOffset nowUtc) =>
        (_request, _store, _nowUtc) = (request, store, nowUtc);

    /// <summary>Opens the record. Lists of how things stand now do without one.</summary>
    public static async Task<ListSource> OpenAsync(ListRequest request, Terminal terminal, CancellationToken token)
    {
        try
        {
            var store = await StoreReader.OpenAsync(request.Shop.Store, token);
            return new ListSource(request, store, terminal.Time.GetUtcNow());
        }
        catch (StoreException fault) when (!request.What.KnowsMoments && fault.Kind == StoreFaultKind.Final)
        {
            await terminal.Errors.WriteLineAsync(VisibleLines.Of(fault.Message));
            return new ListSource(request, null, terminal.Time.GetUtcNow());
        }
    }

    public IAsyncEnumerable<ListRow> RowsAsync(CancellationToken token) => _request.What.Name switch
    {
        "machines" => new MachineList(_request, _store, _nowUtc).RowsAsync(token),
        "alerts" when _store is not null => new AlertList(_request, _store, _nowUtc).RowsAsync(token),
        "coverage" => new CoverageList(_request, _store).RowsAsync(token),
        "reviews" when _store is not null => new ReviewList(_request, _store).RowsAsync(token),
        "trail" when _store is not null => new TrailList(_request, _store).RowsAsync(token),
        "arrivals" when _store is not null =>
            DroppedMarks.AddAsync(DerivedAsync(_store, DerivedKind.Arrival, token), _store, token),
        _ when _store is not null && _request.What.Kind is { } kind => DerivedAsync(_store, kind, token),
        _ => throw new InvalidOperationException($"the list {_request.What.Name} has no rows"),
    };

    public void Dispose() => _store?.Dispose();

    private async IAsyncEnumerable<ListRow> DerivedAsync(
        StoreReader store, DerivedKind kind, [EnumeratorCancellation] CancellationToken token)
    {
        var setups = _request.Program is { } program && kind is not (DerivedKind.Program or DerivedKind.Cycle)
            ? await SetupsOfAsync(store, program, token)
            : null;
        var query = new DerivedQuery
        {
            Kind = kind,
            Machine = _request.Machine,
            SinceUtc = _request.SinceUtc,
            UntilUtc = _request.UntilUtc,
            Withdrawn = _request.Withdrawn,
        };
        await foreach (var row in store.DerivedAsync(query, token))
        {
            if (setups is not null && !setups.Contains(kind == DerivedKind.Setup ? row.Id : row.Setup ?? "")) continue;
            if (setups is null && _request.Program is { } wanted && ProgramOf(row.Body) != wanted) continue;
            yield return new ListRow(
                kind == DerivedKind.Setup ? await SetupRows.DocumentAsync(store, row, token) : row.Body, row.Withdrawn);
        }
    }

    /// <summary>The setups, withdrawn ones too where those are asked for, that were made for a program.</summary>
    private async Task<HashSet<string>> SetupsOfAsync(StoreReader store, string program, CancellationToken token)
    {
        var query = new DerivedQuery
        {
            Kind = DerivedKind.Setup,
            Machine = _request.Machine,
            Withdrawn = _request.Withdrawn,
        };
        var setups = new HashSet<string>(StringComparer.Ordinal);
        await foreach (var row in store.DerivedAsync(query, token))
        {
            using var body = JsonDocument.Parse(row.Body);
            if (body.RootElement.GetProperty("programs").EnumerateArray().Any(name => name.GetString() == program))
                setups.Add(row.Id);
        }
        return setups;
    }

    private static string? ProgramOf(string body)
    {
        using var document = JsonDocument.Parse(body);
        return document.RootElement.GetProperty("program").GetString();
    }
}
