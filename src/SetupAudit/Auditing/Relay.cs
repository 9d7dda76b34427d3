namespace SetupAudit.Auditing;

/// <summary>Passes progress on to two.</summary>
internal sealed class Relay(IProgress<AuditProgress> first, IProgress<AuditProgress>? second) : IProgress<AuditProgress>
{
    public void Report(AuditProgress value)
    {
        first.Report(value);
        second?.Report(value);
    }
}
