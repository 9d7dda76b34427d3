namespace SetupAudit.Setups;

/// <summary>What a person says of a setup, not of the parts cut in it.</summary>
public enum ReviewVerdict
{
    Accepted,
    Rejected,
}
