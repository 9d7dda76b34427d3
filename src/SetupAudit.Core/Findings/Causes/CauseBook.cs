namespace SetupAudit.Findings.Causes;

/// <summary>Every cause of contract section 6, with how often it is met among setups that went wrong, before reviews
/// teach better.</summary>
internal static class CauseBook
{
    public static IReadOnlyList<ICauseModel> Models { get; } =
    [
        WrongNumber.InchMm, WrongNumber.DecimalPoint, WrongNumber.Sign, OtherOffset.AxesSwapped,
            KnownLength.OtherCorner,
        KnownLength.CentreForEdge, KnownLength.Stylus, OtherOffset.ToolLength, OtherOffset.Register, OtherOffset.Older,
        WrongNumber.MistypedDigit, WrongNumber.AppliedTwice, KnownLength.Riser, KnownLength.Gauge,
            KnownLength.EdgeFinder,
        WrongNumber.DiameterForRadius, LiftLeftIn.Model, KnownLength.SearchEnd,
    ];

    /// <summary>All names, the one for none of the known ones last.</summary>
    public static IReadOnlyList<string> Names { get; } = [.. Models.Select(model => model.Name), FixtureMoved.Name];

    // No published source gives such frequencies: every known cause counts once, the open one twice.
    public static double Prior(string name) => name == FixtureMoved.Name ? 2 : 1;
}
