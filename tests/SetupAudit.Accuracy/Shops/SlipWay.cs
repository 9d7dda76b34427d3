namespace SetupAudit.Accuracy.Shops;

/// <summary>When in a setup a mistake happens, which is what its sources can show.</summary>
internal enum SlipWay
{
    /// <summary>In the touch itself: what is told of the touch is already wrong.</summary>
    AtTheTouch,

    /// <summary>Typed in the place of a touch, or over one.</summary>
    Typed,

    /// <summary>After all was set.</summary>
    Afterwards,
}
