namespace SetupAudit.Auditing;

/// <summary>
/// How another configuration reaches the loop, which may stand anywhere: it is put down here, and the turn in hand is
/// asked to end. None is lost where several come in a row; the last one counts.
/// </summary>
internal sealed class Handover
{
    private readonly Lock _gate = new();
    private AuditOptions? _next;
    private CancellationTokenSource? _turn;

    public void Offer(AuditOptions next)
    {
        lock (_gate)
        {
            _next = next;
            // It cannot be disposed meanwhile: the turn ends itself under the same lock.
            _turn?.Cancel();
        }
    }

    /// <summary>A turn begins: with what was put down, null where nothing was.</summary>
    public AuditOptions? Begin(CancellationTokenSource turn)
    {
        lock (_gate)
        {
            var next = _next;
            (_next, _turn) = (null, turn);
            return next;
        }
    }

    public void End()
    {
        lock (_gate) _turn = null;
    }
}
