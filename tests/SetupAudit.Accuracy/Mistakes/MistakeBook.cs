using SetupAudit.Accuracy.Shops;

namespace SetupAudit.Accuracy.Mistakes;

/// <summary>A mistake of every kind that the contract names.</summary>
internal static class MistakeBook
{
    /// <summary>The maker gives null where the kind cannot happen in a setup.</summary>
    public static IReadOnlyList<(string Cause, Func<Scene, Dice, Slip?> Make)> All { get; } =
    [
        ("inch-mm-mixed", TypedWrong.Units), ("decimal-point-lost", TypedWrong.Point),
        ("sign-flipped", TypedWrong.Sign), ("axes-swapped", TypedWrong.Swapped),
        ("other-corner", TouchedWrong.Corner), ("centre-for-edge", TouchedWrong.Centre),
        ("stylus-radius", TouchedWrong.Stylus), ("other-tool-length", TouchedWrong.OtherTool),
        ("other-register", TakenFrom.OtherRegister), ("older-values", TakenFrom.Older),
        ("mistyped-digit", TypedWrong.Digit), ("applied-twice", TypedWrong.Twice),
        ("riser-height", TouchedWrong.Riser), ("gauge-height", TouchedWrong.Gauge),
        ("edge-finder-radius", TouchedWrong.EdgeFinder), ("diameter-for-radius", TypedWrong.Diameter),
        ("lift-left-in", TakenFrom.Lift), ("search-end", TouchedWrong.SearchEnd),
        ("fixture-moved", TouchedWrong.Moved),
    ];
}
