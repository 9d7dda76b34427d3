namespace SetupAudit.Shares;

/// <summary>
/// Why a listing is not whole; and whether the share itself is gone, so that no file of it can be tried.
/// </summary>
internal sealed record ListingFault(string Reason, bool IsShareGone);
