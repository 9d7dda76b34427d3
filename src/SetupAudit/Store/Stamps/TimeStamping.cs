using Serilog;
using SetupAudit.Records;
using SetupAudit.Shop;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Stamps;

/// <summary>
/// Has the newest checkpoint of a record time-stamped where that is due, and keeps the answer beside the record and off
/// this computer. It runs beside the audit and reads the record as anyone does: whatever the authority does holds
/// nothing else up.
/// </summary>
public sealed class TimeStamping(
    string store, string? offBox, TimeStampConfig config, TimeProvider clock, string? postgres = null)
{
    // How often it is looked whether a stamp is due.
    private static readonly TimeSpan LookEvery = TimeSpan.FromMinutes(1);

    private static readonly TimeSpan[] AgainAfter =
        [TimeSpan.FromMinutes(1), TimeSpan.FromMinutes(5), TimeSpan.FromMinutes(15), TimeSpan.FromHours(1)];

    // What clocks of computers differ by where somebody looks after them, and much more.
    private static readonly TimeSpan ClocksApart = TimeSpan.FromMinutes(10);

    private readonly StampAuthority _authority = new(config, clock);
    private readonly StoreDatabase _database = StoreDatabase.Of(new StoreConfig(store, postgres));
    private readonly StampFolder _own = StampFolder.OfStore(store);
    private bool _isCopied;
    private volatile StampStanding _standing = new(0, null, null);

    public StampStanding Standing => _standing;

    /// <summary>Called after each answer, or its lack: whether a stamp was kept.</summary>
    public Action<bool>? OnAsked { get; init; }

    /// <summary>Runs until it is cancelled.</summary>
    public async Task RunAsync(CancellationToken token)
    {
        for (var failures = 0; ;)
        {
            failures = await StampAsync(token) is null ? 0 : failures + 1;
            var wait = failures == 0 ? LookEvery : AgainAfter[Math.Min(failures, AgainAfter.Length) - 1];
            await Task.Delay(wait, clock, token);
        }
    }

    /// <summary>
    /// Asks for a stamp where one is due. Returns why there is none, in words; null where all is well.
    /// </summary>
    public async Task<string?> StampAsync(CancellationToken token)
    {
        await Task.Yield();
        var before = _standing.Fault;
        try
        {
            if (await DueAsync(token) is var (size, note)) await KeepAsync(size, note, token);
            CopyOffBox(await OriginAsync(token));
            if (before is not null)
                Log.Information("Checkpoints are time-stamped by {Authority} again", _authority.To);
            _standing = _standing with { Fault = null };
        }
        catch (Exception fault) when (fault is not OperationCanceledException)
        {
            // The last line of defence: no answer, however odd, may stop the audit.
            _standing = _standing with { Fault = fault.Message.TrimEnd('.') };
            if (before is null)
                Log.Warning("Checkpoints cannot be time-stamped by {Authority}: {Fault}", _authority.To,
                    _standing.Fault);
        }
        return _standing.Fault;
    }

    // Never one over what is stamped already: a stamp that is kept is not put again.
    private async Task<(long Size, byte[] Note)?> DueAsync(CancellationToken token)
    {
        var (size, atUtc) = Newest();
        _standing = _standing with { Size = size, AtUtc = atUtc };
        // Either way round: where a clock was wrong, it must not keep stamps away until that day comes.
        if (atUtc is { } last && (clock.GetUtcNow() - last).Duration() < config.Every) return null;
        await using var connection = await _database.OpenReaderAsync(token);
        var newest = await CheckpointTable.LastAsync(connection, token);
        return newest is not null && newest.Size > size && await OriginAsync(token) is { } origin
            && newest.ToNote(origin) is { } note ? (newest.Size, note.ToBytes()) : null;
    }

    // One that does not hold counts for nothing here; 'verify' tells of it.
    private (long Size, DateTimeOffset? AtUtc) Newest()
    {
        if (_own.Sizes() is not [.., var size]) return (0, null);
        try
        {
            return (size, _own.Note(size) is { } note
                ? StampReading.Check(_own.Answer(size), note, trust: null).AtUtc : null);
        }
        catch (StampFaultException)
        {
            return (size, null);
        }
    }

    private async Task KeepAsync(long size, byte[] note, CancellationToken token)
    {
        var isKept = false;
        try
        {
            using var trust = StampTrust.Read(config.CertificateFile, out var reason)
                ?? throw new StampFaultException($"CertificateFile: {reason}");
            var (answer, stamp) = await _authority.AskAsync(note, trust, token);
            _own.Put(size, note, answer);
            _isCopied = false;
            isKept = true;
            _standing = _standing with { Size = size, AtUtc = stamp.AtUtc };
            Log.Information("Time-stamped {Entries} entries on {At} by {Subject}", size, stamp.AtUtc, stamp.By);
            if ((clock.GetUtcNow() - stamp.AtUtc).Duration() > ClocksApart)
                Log.Warning("The authority says {At}, and this computer's clock {Now}", stamp.AtUtc, clock.GetUtcNow());
        }
        finally
        {
            OnAsked?.Invoke(isKept);
        }
    }

    // A folder that is away is told by what copies the checkpoints there; the stamps follow when it is back.
    private void CopyOffBox(string? origin)
    {
        if (_isCopied || offBox is null || origin is null || !Directory.Exists(offBox)) return;
        _own.CopyTo(StampFolder.OffBox(offBox, origin));
        _isCopied = true;
    }

    private async Task<string?> OriginAsync(CancellationToken token)
    {
        await using var connection = await _database.OpenReaderAsync(token);
        var first = await EntryTable.PageAsync(connection, 0, 1, 1, token);
        return first.Count == 0 ? null : RecordBody.Read(first[0].Body)?.Origin;
    }
}
