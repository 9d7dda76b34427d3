namespace SetupAudit.Shop;

/// <summary>Which way an offset may not move too far.</summary>
public enum LimitDirection
{
    /// <summary>The number grows: a tool is longer, a datum lies further in plus.</summary>
    Up,

    /// <summary>The number falls: a tool is shorter, a datum lies further in minus.</summary>
    Down,
}
