using SetupAudit.Datums;

namespace SetupAudit.Findings;

/// <summary>Names of offsets for sentences of other rooms.</summary>
public static class OffsetName
{
    /// <summary>"Z of G54", "length wear of tool 3".</summary>
    public static string Of(OffsetKey key) => Words.Name(key);
}
