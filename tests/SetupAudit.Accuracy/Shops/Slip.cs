using SetupAudit.Datums;

namespace SetupAudit.Accuracy.Shops;

/// <summary>What a mistake makes of a setup.</summary>
/// <param name="Cause">As contract section 6 names it.</param>
/// <param name="Wrong">The offsets it hits, with what the control holds afterwards.</param>
/// <param name="Way">When in the setup it happens.</param>
internal sealed record Slip(string Cause, IReadOnlyDictionary<OffsetKey, decimal> Wrong, SlipWay Way);
