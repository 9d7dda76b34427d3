namespace SetupAudit.Alerts;

/// <summary>
/// One way to one receiver. It keeps nothing between two messages, and is asked for one message at a time.
/// </summary>
public interface IAlertChannel
{
    /// <summary>mail, webhook, syslog or files.</summary>
    string Name { get; }

    /// <summary>The receiver, as it may be shown and recorded: an address without any secret that it holds.</summary>
    string To { get; }

    /// <summary>
    /// Tries once, within a limit of time of its own. What goes wrong is told as an outcome; it throws only where the
    /// token asks it to stop.
    /// </summary>
    Task<SendResult> SendAsync(AlertMessage message, CancellationToken token);
}
