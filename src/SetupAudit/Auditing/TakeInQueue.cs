using System.Runtime.ExceptionServices;
using System.Threading.Channels;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// The one way into the store for what the shares' threads find: they wait here until theirs is durable, and what
/// several of them bring at once shares a transaction.
/// </summary>
internal sealed class TakeInQueue
{
    // Flushing costs the same for one arrival as for hundreds.
    private const int TogetherMost = 512;

    private readonly AuditStore _store;
    private readonly Channel<Work> _works;

    /// <param name="waitingMost">How many threads may wait at once: each brings one batch at a time.</param>
    public TakeInQueue(AuditStore store, int waitingMost)
    {
        _store = store;
        _works = Channel.CreateBounded<Work>(Math.Max(1, waitingMost));
    }

    /// <summary>
    /// Called on a thread of the shares. Returns when the batch is durable; throws what kept it from it.
    /// </summary>
    public void TakeIn(TakeInBatch batch, CancellationToken cancel)
    {
        var work = new Work(batch);
        if (!_works.Writer.TryWrite(work))
            throw new StoreException("The store takes nothing in until it is opened again.");
        work.Done.Wait(cancel);
        if (work.Fault is { } fault) ExceptionDispatchInfo.Throw(fault);
    }

    /// <summary>
    /// Takes in what comes until <see cref="End"/>. Ends early, with its fault, where the store fails.
    /// </summary>
    public async Task RunAsync()
    {
        var together = new List<Work>();
        while (await _works.Reader.WaitToReadAsync())
        {
            together.Clear();
            while (together.Sum(one => one.Batch.Arrivals.Count) < TogetherMost && _works.Reader.TryRead(out var work))
                together.Add(work);
            try
            {
                await TakeInAsync(together);
            }
            catch (StoreException fault)
            {
                _works.Writer.TryComplete();
                while (_works.Reader.TryRead(out var left)) left.End(fault);
                throw;
            }
        }
    }

    /// <summary>Nothing comes any more; what waits is still taken in.</summary>
    public void End() => _works.Writer.TryComplete();

    private async Task TakeInAsync(List<Work> together)
    {
        try
        {
            await _store.TakeInAsync(Merged(together), CancellationToken.None);
            together.ForEach(work => work.End(null));
        }
        catch (StoreException fault)
        {
            together.ForEach(work => work.End(fault));
            throw;
        }
        catch (Exception fault) when (together.Count == 1)
        {
            // Bytes that changed under the reader, say: told to the thread that brought them, whose file comes again.
            together[0].End(fault);
        }
        catch (Exception)
        {
            // One of them is at fault: each by itself, so that the others come through.
            foreach (var work in together) await TakeInAsync([work]);
        }
    }

    private static TakeInBatch Merged(List<Work> together) => new()
    {
        Arrivals = [.. together.SelectMany(work => work.Batch.Arrivals)],
        Positions = [.. together.SelectMany(work => work.Batch.Positions)],
    };

    private sealed class Work(TakeInBatch batch)
    {
        public TakeInBatch Batch { get; } = batch;

        public ManualResetEventSlim Done { get; } = new();

        public Exception? Fault { get; private set; }

        public void End(Exception? fault)
        {
            Fault = fault;
            Done.Set();
        }
    }
}
