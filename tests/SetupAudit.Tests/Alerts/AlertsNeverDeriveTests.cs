using CsCheck;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Alerts;

/// <summary>
/// Whatever alerts are told to do and whatever becomes of them, what is derived is the same as without them; and in
/// whichever order evidence comes, the same findings stand as told in the end.
/// </summary>
public sealed class AlertsNeverDeriveTests
{
    private const int Dumps = 6;

    private static readonly DateTimeOffset First = new(2026, 3, 2, 7, 0, 0, TimeSpan.Zero);

    // Some dumps move Z beyond its limit, some do not, and one cannot be read.
    private static readonly decimal?[] Z = [-305m, -305.5m, null, -300m, -312m, -312m];

    private static readonly SendResult[] Results =
    [
        new(SendOutcome.Sent, "kept"), new(SendOutcome.SentUnconfirmed, "gone out"), new(SendOutcome.Temporary, "away"),
        new(SendOutcome.Permanent, "no such address"), new(SendOutcome.Final, "the password is wrong"),
    ];

    /// <summary>How one shop goes: its order of arrival, its alerts and its receivers.</summary>
    private sealed record Story(int[] Order, int[] Cuts, int Repeated, Severity Severity, int Most, int[] Answers, bool Throws);

    private static readonly Gen<Story> Stories = Gen.Select(
        Gen.Shuffle(Enumerable.Range(0, Dumps).ToArray()), Gen.Int[1, Dumps - 1].Array[0, 3], Gen.Int[0, Dumps - 1],
        Gen.Enum<Severity>(), Gen.Int[1, 3], Gen.Int[0, Results.Length - 1].Array[0, 8], Gen.Bool,
        (order, cuts, repeated, severity, most, answers, throws) => new Story(order, cuts, repeated, severity, most, answers, throws));

    [Fact]
    public async Task What_is_derived_is_the_same_with_alerts_and_without_and_the_same_findings_stand_as_told()
    {
        var (derived, _) = await RunAsync(new Story([.. Enumerable.Range(0, Dumps)], [], 0, Severity.High, 10, [], false), withAlerts: false);
        Assert.Contains(derived, row => row.Contains("/over-limit/", StringComparison.Ordinal));
        await Stories.SampleAsync(async story =>
        {
            var (rows, told) = await RunAsync(story, withAlerts: true);
            Assert.Equal(derived, rows);
            Assert.Equal(Expected(derived, story.Severity), told);
        }, iter: 15, threads: 1);
    }

    // Every finding that holds and is grave enough, whatever came in between.
    private static List<string> Expected(IReadOnlyList<string> derived, Severity least) =>
    [
        .. derived.Where(row => row.StartsWith("Finding ", StringComparison.Ordinal))
            .Select(row => ShapeBody.Read<FindingView>(row[(row.IndexOf('{'))..]))
            .Where(finding => finding.Severity >= least).Select(finding => finding.Finding).Order(StringComparer.Ordinal),
    ];

    private static async Task<(IReadOnlyList<string> Derived, IReadOnlyList<string> Told)> RunAsync(Story story, bool withAlerts)
    {
        using var bench = new AlertBench
        {
            Alerts = withAlerts ? FormattableString.Invariant($"\"Severity\": \"{story.Severity.ToString().ToLowerInvariant()}\", \"Most\": {story.Most}") : null,
        };
        if (story.Throws) bench.Channel.OnMessage = (_, _) => throw new InvalidOperationException("a channel that fails");
        // What is known before is in every story the same, so that the rest is news.
        bench.Dump("first", -300m, First);
        bench.Pass(20 * 60);
        await bench.OnceAsync();
        foreach (var answer in story.Answers) bench.Channel.Answers.Enqueue(Results[answer]);
        for (var at = 0; at < Dumps; at++)
        {
            Put(bench, story.Order[at]);
            if (!story.Cuts.Contains(at)) continue;
            await bench.OnceAsync();
            Put(bench, story.Repeated);
            bench.Pass(3);
        }
        foreach (var left in story.Order) Put(bench, left);
        await bench.OnceAsync();
        for (var more = 0; withAlerts && more < 3; more++)
        {
            bench.Pass(2);
            await bench.SendOnceAsync();
        }
        return await EndAsync(bench);
    }

    private static void Put(AlertBench bench, int dump)
    {
        var modified = First.AddHours(2 * (dump + 1));
        if (Z[dump] is { } z) bench.Dump($"{dump}", z, modified);
        else bench.Write($"offsets/{dump}.nc", "no dump at all \u0001\u0002", modified);
    }

    private static async Task<(IReadOnlyList<string> Derived, IReadOnlyList<string> Told)> EndAsync(AlertBench bench)
    {
        using var reader = await bench.ReaderAsync();
        var derived = new List<string>();
        foreach (var kind in new[] { DerivedKind.Setup, DerivedKind.Change, DerivedKind.Finding })
            await foreach (var row in reader.DerivedAsync(new DerivedQuery { Kind = kind }, AlertBench.Token))
                derived.Add($"{kind} {row.Id} {row.Body}");
        var told = (await reader.Outbox.StandingAsync(AlertBench.Token))
            .Where(one => one.Step != Store.Outbox.AlertStep.Withdrawn).Select(one => one.Finding).Order(StringComparer.Ordinal).ToList();
        return (derived, told);
    }
}
