namespace SetupAudit.Shares;

/// <summary>Why a listed file may have to be read.</summary>
internal enum CandidateWhy
{
    /// <summary>It is new, or the listing shows another size, time or kind than is known.</summary>
    Changed,

    /// <summary>The listing shows what is known; it is read again to compare it, or tried again.</summary>
    Recheck,

    /// <summary>A print-out whose last line was unfinished and may now count.</summary>
    Tail,
}
