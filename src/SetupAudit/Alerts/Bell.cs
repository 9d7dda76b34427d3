namespace SetupAudit.Alerts;

/// <summary>Wakes one loop when there is something to do; several rings before it looks are one.</summary>
internal sealed class Bell
{
    private volatile TaskCompletionSource _rung = New();

    public void Ring() => _rung.TrySetResult();

    /// <summary>
    /// Waits for a ring, but not longer than a time. Whoever rings does so after what there is to do can be seen.
    /// </summary>
    public async Task WaitAsync(TimeSpan most, TimeProvider clock, CancellationToken token)
    {
        await Task.WhenAny(_rung.Task, Task.Delay(most, clock, token));
        _rung = New();
        token.ThrowIfCancellationRequested();
    }

    private static TaskCompletionSource New() => new(TaskCreationOptions.RunContinuationsAsynchronously);
}
