using SetupAudit.Shop;
using SetupAudit.Store.Outbox;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store;

/// <summary>What alerts said of findings, as lists read it.</summary>
public sealed class OutboxReaderTests
{
    [Fact]
    public async Task The_newest_word_of_a_finding_is_the_one_said_last_whatever_moment_it_tells()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        store.Alerting = (machine, change, nowUtc) => change.Body is null ? null : new StoredAlert
        {
            AtUtc = nowUtc,
            Machine = machine,
            Finding = change.Id,
            Rule = "over-limit",
            Severity = Severity.High,
            HeldUtc = DateTimeOffset.Parse(change.Body.Trim('"'), System.Globalization.CultureInfo.InvariantCulture),
            Step = AlertStep.Raised,
        };
        await DeriveAsync(store, [("a", "2026-03-02T07:13:00Z"), ("b", "2026-03-02T07:12:00Z")]);
        await DeriveAsync(store, [("b", "2026-03-02T07:12:00Z")]);
        // Raised again by evidence that came late, from an earlier moment.
        await DeriveAsync(store, [("a", "2026-03-02T07:10:00Z"), ("b", "2026-03-02T07:12:00Z")]);

        var found = new List<string>();
        var query = new DerivedQuery { Kind = DerivedKind.Finding };
        await foreach (var page in store.Reader.Outbox.FindingsAsync(query, 1, Token))
            found.AddRange(page.Select(words => $"{words[0].Finding}: {string.Join(' ', words.Select(word => word.Step))} {words[^1].HeldUtc:HH:mm}"));
        Assert.Equal(["a: Raised Withdrawn Raised 07:10", "b: Raised 07:12"], found);
    }

    private static Task<IReadOnlyList<DerivedChange>> DeriveAsync(AuditStore store, (string Id, string Held)[] findings) =>
        store.ReplaceDerivedAsync(new DerivedBatch
        {
            Machine = "mill-3",
            ScopeFromUtc = Monday,
            Rows = [.. findings.Select(one => new DerivedRow
            {
                Kind = DerivedKind.Finding, Id = one.Id, ScopeUtc = Monday, AtUtc = Monday, Body = $"\"{one.Held}\"",
            })],
            WithdrawnBecause = "it no longer holds",
            HorizonUtc = Monday,
        }, Token);
}
