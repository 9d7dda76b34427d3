using SetupAudit.Evidence;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>Looks up the text of lines of evidence; a file is read once, for all of its lines.</summary>
internal sealed class QuotedLines(StoreReader store)
{
    private readonly List<string> _damage = [];

    /// <summary>What could not be quoted because the kept bytes are damaged, in sentences.</summary>
    public IReadOnlyList<string> Damage => _damage;

    public async Task<IReadOnlyDictionary<SourceLine, string>> ReadAsync(
        IReadOnlyList<SourceLine> sources, CancellationToken token)
    {
        var found = new Dictionary<SourceLine, string>();
        var wanted = sources.Where(source => source.Line > 0).Distinct().ToList();
        var firsts = (await store.FirstLinesAsync(wanted.Select(source => source.Sha256), token))
            .ToLookup(first => (first.File, first.Sha256), first => first.FirstLine);
        foreach (var file in wanted.GroupBy(source => (source.File, source.Sha256)))
        {
            // A line counts in its file; of a print-out that grew, only a later piece of it is kept here.
            var first = firsts[file.Key].DefaultIfEmpty(1).First();
            var lines = file.Select(source => source.Line - first + 1).ToHashSet();
            var texts = await PickAsync(file.Key.Sha256, lines, token);
            foreach (var source in file)
                if (texts.TryGetValue(source.Line - first + 1, out var text)) found[source] = text;
        }
        return found;
    }

    private async Task<IReadOnlyDictionary<int, string>> PickAsync(
        string sha256, IReadOnlySet<int> lines, CancellationToken token)
    {
        try
        {
            await using var bytes = await store.OpenEvidenceAsync(sha256, token);
            if (bytes is not null) return await LinePicker.PickAsync(bytes, lines, token);
        }
        catch (StoreException fault) when (fault.Kind == StoreFaultKind.Permanent)
        {
            // The report is still worth having: it says that the bytes are not at hand, and the command ends with 1.
            _damage.Add(fault.Message);
        }
        return new Dictionary<int, string>();
    }
}
