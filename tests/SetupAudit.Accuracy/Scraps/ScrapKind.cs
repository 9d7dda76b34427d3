namespace SetupAudit.Accuracy.Scraps;

/// <summary>How a part came to be wrong.</summary>
internal enum ScrapKind
{
    /// <summary>A datum was corrected the wrong way, or too far, while parts ran.</summary>
    DatumTweaked,

    /// <summary>A wear was entered with the wrong sign or digit.</summary>
    WearTweaked,

    /// <summary>A tool was measured anew, wrongly.</summary>
    LengthMeasured,

    /// <summary>A cutter's diameter was entered wrongly.</summary>
    DiameterEntered,

    /// <summary>A datum was wrong from the setup on.</summary>
    SetWrong,

    /// <summary>Z was never set: it stood from the job before.</summary>
    NeverSet,

    /// <summary>A chip, a clamp, a dull tool: nothing that an offset shows.</summary>
    Unseen,
}
