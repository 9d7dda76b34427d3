namespace SetupAudit.Auditing;

/// <summary>
/// When the loop last got on: a watchdog that was fed by a timer of its own would find a hung loop alive.
/// </summary>
public sealed class Pulse(TimeProvider clock) : IProgress<AuditProgress>
{
    private long _beat = clock.GetTimestamp();

    /// <summary>How long ago it was.</summary>
    public TimeSpan Age => clock.GetElapsedTime(Interlocked.Read(ref _beat));

    public void Beat() => Interlocked.Exchange(ref _beat, clock.GetTimestamp());

    /// <summary>Long work that gets on is a beat too.</summary>
    public void Report(AuditProgress value) => Beat();
}
