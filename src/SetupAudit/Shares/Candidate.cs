namespace SetupAudit.Shares;

/// <summary>A listed file that may have to be read.</summary>
internal sealed record Candidate(
    string Name, EntryKind Kind, FileStamp Listed, KnownFile? Known, CandidateWhy Why)
{
    public bool IsRecheck => Why == CandidateWhy.Recheck;
}
