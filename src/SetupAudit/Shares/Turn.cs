namespace SetupAudit.Shares;

/// <summary>What every look at a print-out in one scan shares.</summary>
internal sealed record Turn(ScanMoment Moment, Func<Candidate, Waiting> WaitingOf, CancellationToken Cancel);
