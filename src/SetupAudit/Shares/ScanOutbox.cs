namespace SetupAudit.Shares;

/// <summary>
/// Gathers what is taken into batches, and moves what is known only when the intake has made a batch durable: bytes,
/// then rows with positions, then the position in memory.
/// </summary>
internal sealed class ScanOutbox(
    ShareSource source, KnownFiles known, ScanLimits limits, TimeProvider time, Action<Taking> confirmed)
{
    private readonly List<Taking> _batch = [];
    private readonly Dictionary<string, KnownFile> _unsaved = new(StringComparer.Ordinal);
    private readonly HashSet<string> _gone = new(StringComparer.Ordinal);
    private Action<ScanBatch> _takeIn = _ => { };
    private long _bytes;

    public bool HasBatch => _batch.Count > 0;

    /// <summary>How many arrivals were taken in since the scan began.</summary>
    public int Taken { get; private set; }

    public long SavedAt { get; private set; }

    public void Begin(Action<ScanBatch> takeIn)
    {
        _takeIn = takeIn;
        Taken = 0;
        Drop();
    }

    /// <summary>Changes what is known without evidence: at once here, and in the store with the next batch.</summary>
    public void Remember(KnownFile file)
    {
        known.Put(file);
        _unsaved[file.Name] = file;
        _gone.Remove(file.Name);
    }

    public void Forget(string name)
    {
        known.Forget(name);
        _unsaved.Remove(name);
        _gone.Add(name);
    }

    public void Add(Taking taking)
    {
        if (taking.Next is not { } next) return;
        if (taking is { Found: null, Released: null, Candidate.IsRecheck: true })
        {
            // Only compared: worth a row of the store some time, not a flush of its own.
            Remember(next);
            confirmed(taking);
            return;
        }

        var isLarge = taking.Found is { Bytes: null, Refused: null };
        if (isLarge) Flush();
        _batch.Add(taking);
        _bytes += taking.Found?.Bytes?.Length ?? 0;
        if (isLarge) FlushLarge();
        else if (_batch.Count >= limits.BatchFiles || _bytes >= limits.BatchBytes) Flush();
    }

    public void Flush()
    {
        if (_batch.Count == 0 && _unsaved.Count == 0 && _gone.Count == 0 && known.UnsavedMount is null) return;
        _takeIn(Batch());
        SavedAt = time.GetTimestamp();
        foreach (var taking in _batch)
        {
            if (taking.Released is { } name) known.Forget(name);
            if (taking.Next is { } next) known.Put(next);
            if (taking.Found is not null) Taken++;
            confirmed(taking);
        }

        Drop();
        _unsaved.Clear();
        _gone.Clear();
        known.MountSaved();
    }

    // Handed over alone, so that its failure is nobody else's: it is read on the share once more, and when it gives
    // other bytes by then, it simply waits.
    private void FlushLarge()
    {
        try
        {
            Flush();
        }
        catch (FileChangedException)
        {
            Drop();
        }
    }

    private void Drop()
    {
        foreach (var taking in _batch) taking.Spool?.Dispose();
        _batch.Clear();
        _bytes = 0;
    }

    private ScanBatch Batch()
    {
        var positions = new Dictionary<string, KnownFile>(_unsaved, StringComparer.Ordinal);
        var released = _batch.Select(one => one.Released).OfType<string>().ToList();
        released.ForEach(name => positions.Remove(name));
        foreach (var next in _batch.Select(one => one.Next).OfType<KnownFile>()) positions[next.Name] = next;
        var written = positions.Values.Select(one => new Position(one.Name, KnownText.Write(one))).ToList();
        if (known.UnsavedMount is { } mount) written.Add(mount);
        return new ScanBatch
        {
            Source = source,
            Found = [.. _batch.Select(one => one.Found).OfType<FoundFile>()],
            Positions = written,
            Gone = [.. released.Concat(_gone).Where(name => !positions.ContainsKey(name))
                .Distinct(StringComparer.Ordinal)],
        };
    }
}
