namespace SetupAudit.Alerts;

/// <summary>A receiver in this process: it keeps what reaches it, and answers as a test has it answer.</summary>
internal sealed class HandChannel(string to = "hand") : IAlertChannel
{
    private readonly Lock _lock = new();
    private readonly List<AlertMessage> _reached = [];

    public string Name { get; private set; } = "files";

    public string To { get; private set; } = to;

    /// <summary>Stands in for another receiver, as the configuration names it.</summary>
    public void Rename(string name, string receiver) => (Name, To) = (name, receiver);

    /// <summary>What it says to the next messages; Sent where nothing is left.</summary>
    public Queue<SendResult> Answers { get; } = new();

    /// <summary>What it says where no answer is left.</summary>
    public SendResult Usual { get; set; } = new(SendOutcome.Sent, "kept");

    /// <summary>Called when a message reaches it, before it answers.</summary>
    public Func<AlertMessage, CancellationToken, Task>? OnMessage { get; set; }

    /// <summary>Every message that reached it, whatever it answered.</summary>
    public IReadOnlyList<AlertMessage> Reached
    {
        get
        {
            lock (_lock) return [.. _reached];
        }
    }

    public async Task<SendResult> SendAsync(AlertMessage message, CancellationToken token)
    {
        lock (_lock) _reached.Add(message);
        if (OnMessage is { } call) await call(message, token);
        return Answers.Count > 0 ? Answers.Dequeue() : Usual;
    }
}
