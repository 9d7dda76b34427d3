namespace SetupAudit.Store.Outbox;

/// <summary>One word about a message on its way to one receiver.</summary>
public sealed record StoredSending
{
    public required DateTimeOffset AtUtc { get; init; }

    public required string Message { get; init; }

    /// <summary>mail, webhook, syslog or files.</summary>
    public required string Channel { get; init; }

    /// <summary>The receiver, without any secret.</summary>
    public required string Receiver { get; init; }

    /// <summary>How many tries there were, with this one.</summary>
    public required int Try { get; init; }

    public required SendingOutcome Outcome { get; init; }

    public required string Reason { get; init; }

    /// <summary>When it is tried next; null where it is not.</summary>
    public DateTimeOffset? NextUtc { get; init; }

    /// <summary>SHA-256 of the configuration under which this was said.</summary>
    public required string Configuration { get; init; }

    /// <summary>Whether the message is still on its way.</summary>
    public bool IsOpen => Outcome is SendingOutcome.Queued or SendingOutcome.Temporary or SendingOutcome.Interrupted
        or SendingOutcome.Resent;

    /// <summary>Whether the message will not arrive unless a person asks for it.</summary>
    public bool IsDead => Outcome is SendingOutcome.Permanent or SendingOutcome.Final or SendingOutcome.GivenUp;
}
