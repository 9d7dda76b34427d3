using System.Buffers;
using System.Runtime.CompilerServices;
using System.Text;
using System.Text.Json;
using SetupAudit.Alerts;
using SetupAudit.Shapes;
using SetupAudit.Store;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Commands;

/// <summary>For every finding that alerts looked at: what was sent of it, to whom and when, or why not.</summary>
internal sealed class AlertList(ListRequest request, StoreReader store, DateTimeOffset nowUtc)
{
    private const int AtOnce = 200;

    public async IAsyncEnumerable<ListRow> RowsAsync([EnumeratorCancellation] CancellationToken token)
    {
        var quiets = new QuietTimes(await store.Outbox.QuietsAsync(token));
        var some = new List<StoredAlert>();
        var query = new DerivedQuery
        {
            Kind = DerivedKind.Finding,
            Machine = request.Machine,
            SinceUtc = request.SinceUtc,
            UntilUtc = request.UntilUtc,
        };
        await foreach (var alert in store.Outbox.AlertsAsync(query, token))
        {
            // The words about one finding stand together; they are not torn apart.
            if (some.Count >= AtOnce && some[^1].Finding != alert.Finding)
            {
                foreach (var row in await RowsAsync(some, quiets, token)) yield return row;
                some.Clear();
            }
            some.Add(alert);
        }
        foreach (var row in await RowsAsync(some, quiets, token)) yield return row;
    }

    private async Task<IReadOnlyList<ListRow>> RowsAsync(
        List<StoredAlert> alerts, QuietTimes quiets, CancellationToken token)
    {
        var told = (await store.Outbox.ToldAsync([.. alerts.Select(alert => alert.Seq)], token))
            .ToDictionary(one => one.Alert);
        var ids = told.Values.Select(one => one.Message).OfType<string>().Distinct().ToList();
        var messages = (await store.Outbox.MessagesAsync(ids, token)).ToDictionary(message => message.Id);
        var words = (await store.Outbox.SendingsAsync(ids, token)).ToLookup(word => word.Message);
        return [.. alerts.GroupBy(alert => (alert.Machine, alert.Finding)).Select(of => Row([.. of], told, messages,
            words, quiets.Of(of.Key.Machine, nowUtc)))];
    }

    private static ListRow Row(IReadOnlyList<StoredAlert> alerts, Dictionary<long, ToldAlert> told,
        Dictionary<string, StoredMessage> messages, ILookup<string, StoredSending> words, StoredQuiet? quiet)
    {
        var became = alerts.Select(alert => told.GetValueOrDefault(alert.Seq)).ToList();
        var ways = became.Select(one => one?.Message).OfType<string>().Distinct()
            .SelectMany(id => words[id].GroupBy(word => (word.Channel, word.Receiver)))
            .Select(way => (Message: messages[way.First().Message], Word: way.Last())).ToList();
        var waits = alerts[^1].WhyNot is null && became[^1] is null;
        var (first, last) = (alerts[0], alerts[^1]);
        return new ListRow(Written(json =>
        {
            json.WriteString("finding", last.Finding);
            json.WriteString("rule", last.Rule);
            json.WriteString("severity", Word.Of(last.Severity));
            json.WriteString("machine", last.Machine);
            json.WriteString("setup", last.Setup);
            json.WriteString("at", Word.Of(last.HeldUtc));
            json.WriteString("seen", Word.Of(first.AtUtc));
            json.WriteString("step", Word.Of(last.Step));
            json.WriteString("status", Status(waits, ways.Select(way => way.Word).ToList()));
            json.WriteString("why", Why(waits, last, became[^1], quiet));
            json.WriteStartArray("messages");
            foreach (var (message, word) in ways) Write(json, message, word);
            json.WriteEndArray();
        }), null);
    }

    private static string Status(bool waits, List<StoredSending> words)
    {
        if (waits || words.Any(word => word.IsOpen)) return "waiting";
        if (words.Count == 0) return "not-sent";
        return words.All(word => word.IsDead) ? "failed" : "sent";
    }

    private static string? Why(bool waits, StoredAlert last, ToldAlert? became, StoredQuiet? quiet)
    {
        if (waits && quiet is not null)
            return $"quiet until {Word.Of(quiet.UntilUtc)}, asked for by {quiet.By}: {quiet.Reason}";
        if (waits) return "it waits to be put up";
        return last.WhyNot ?? became?.WhyNot
            ?? (became is { Listed: false } ? "the message counts it and does not name it" : null);
    }

    private static void Write(Utf8JsonWriter json, StoredMessage message, StoredSending word)
    {
        json.WriteStartObject();
        json.WriteString("message", message.Id);
        json.WriteString("kind", message.Kind);
        json.WriteString("queued", Word.Of(message.AtUtc));
        json.WriteString("channel", word.Channel);
        json.WriteString("to", word.Receiver);
        json.WriteString("outcome", OutcomeOf(word.Outcome));
        json.WriteString("at", Word.Of(word.AtUtc));
        json.WriteNumber("tries", word.Try);
        json.WriteString("reason", word.Reason);
        json.WriteString("next", word.NextUtc is { } next && word.IsOpen ? Word.Of(next) : null);
        json.WriteEndObject();
    }

    private static string OutcomeOf(SendingOutcome outcome) =>
        outcome == SendingOutcome.GivenUp ? "given-up" : Word.Of(outcome);

    private static string Written(Action<Utf8JsonWriter> write)
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(buffer, ShapeBody.Compact))
        {
            json.WriteStartObject();
            write(json);
            json.WriteEndObject();
        }
        return Encoding.UTF8.GetString(buffer.WrittenSpan);
    }
}
