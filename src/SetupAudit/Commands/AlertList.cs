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
        var query = new DerivedQuery
        {
            Kind = DerivedKind.Finding,
            Machine = request.Machine,
            SinceUtc = request.SinceUtc,
            UntilUtc = request.UntilUtc,
        };
        await foreach (var page in store.Outbox.FindingsAsync(query, AtOnce, token))
            foreach (var row in await RowsAsync(page, quiets, token)) yield return row;
    }

    private async Task<IReadOnlyList<ListRow>> RowsAsync(
        IReadOnlyList<IReadOnlyList<StoredAlert>> findings, QuietTimes quiets, CancellationToken token)
    {
        var seqs = findings.SelectMany(words => words.Select(word => word.Seq)).ToList();
        var told = (await store.Outbox.ToldAsync(seqs, token)).ToDictionary(one => one.Alert);
        var reminded = (await store.Outbox.RemindedOfAsync([.. findings.Select(words => words[0].Finding)], token))
            .ToLookup(one => (one.Machine, one.Finding), one => one.Message);
        var ids = told.Values.Select(one => one.Message).OfType<string>()
            .Concat(reminded.SelectMany(of => of)).Distinct().ToList();
        var messages = (await store.Outbox.MessagesAsync(ids, token)).ToDictionary(message => message.Id);
        var ways = (await store.Outbox.SendingsAsync(ids, token))
            .GroupBy(word => (word.Message, word.Channel, word.Receiver))
            .Select(way => (Message: messages[way.Key.Message], Word: way.Last())).ToLookup(way => way.Message.Id);
        return [.. findings.Select(words =>
        {
            var became = words.Select(alert => told.GetValueOrDefault(alert.Seq)).ToList();
            var of = became.Select(one => one?.Message).OfType<string>()
                .Concat(reminded[(words[0].Machine, words[0].Finding)]).Distinct()
                .OrderBy(id => messages[id].AtUtc).SelectMany(id => ways[id]).ToList();
            return Row(words, became[^1], of, quiets.Of(words[0].Machine, nowUtc));
        })];
    }

    private static ListRow Row(IReadOnlyList<StoredAlert> alerts, ToldAlert? became,
        IReadOnlyList<(StoredMessage Message, StoredSending Word)> ways, StoredQuiet? quiet)
    {
        var (first, last) = (alerts[0], alerts[^1]);
        var waits = last.WhyNot is null && became is null;
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
            // A reminder tells nothing new: whether it arrived does not decide whether the finding was told.
            json.WriteString("status", Status(waits,
                [.. ways.Where(way => way.Message.Kind != "reminder").Select(way => way.Word)]));
            json.WriteString("why", Why(waits, last, became, quiet));
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
        if (waits && last.Rule == ShareNames.Rule)
            return "it waits to be put up, or for what was sent of its share to clear";
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
