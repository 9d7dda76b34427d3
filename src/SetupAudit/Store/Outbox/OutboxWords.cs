using SetupAudit.Records;

namespace SetupAudit.Store.Outbox;

/// <summary>What alerts say in the record.</summary>
internal static class OutboxWords
{
    /// <summary>A finding is to be told, or that it cleared is.</summary>
    public static RecordWord Of(StoredAlert alert) => new(RecordKind.Alert, Said.Of(json =>
    {
        json.WriteString("step", WordText.Of(alert.Step));
        json.WriteString("finding", alert.Finding);
        json.WriteString("machine", alert.Machine);
        json.WriteString("severity", WordText.Of(alert.Severity));
    }));

    /// <summary>What was said of a message on its way to one receiver.</summary>
    public static RecordWord Of(StoredSending sending) => new(RecordKind.Alert, Said.Of(json =>
    {
        json.WriteString("step", WordText.Of(sending.Outcome));
        json.WriteString("message", sending.Message);
        json.WriteString("channel", sending.Channel);
        json.WriteString("to", sending.Receiver);
        json.WriteNumber("try", sending.Try);
        json.WriteString("reason", sending.Reason);
    }));

    /// <summary>Somebody asked for quiet, or ended it.</summary>
    public static RecordWord Of(StoredQuiet quiet) => new(RecordKind.Alert, Said.Of(json =>
    {
        json.WriteString("step", quiet.Cancels is null ? "quiet" : "quiet-ended");
        json.WriteString("quiet", quiet.Cancels ?? quiet.Id);
        json.WriteString("machine", quiet.Machine);
        json.WriteString("until", UtcText.Of(quiet.UntilUtc));
        json.WriteString("by", quiet.By);
        json.WriteString("reason", quiet.Reason);
    }));
}
