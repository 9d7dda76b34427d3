namespace SetupAudit.Findings.Causes;

/// <summary>When in a setup a mistake happens, which is what the sources can show of it.</summary>
internal enum Manner
{
    /// <summary>In the touch itself: what a print-out tells of the touch is already wrong.</summary>
    AtTheTouch,

    /// <summary>In a touch by hand, whose numbers are typed: no probing routine tells of it.</summary>
    ByHand,

    /// <summary>Typed, in the place of a touch or over one.</summary>
    Typed,

    /// <summary>After all was set: raised, or brought back.</summary>
    Afterwards,
}
