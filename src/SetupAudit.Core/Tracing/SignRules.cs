using SetupAudit.Datums;

namespace SetupAudit.Tracing;

/// <summary>How a wrong offset shows on the part. docs/tracing.md draws each line.</summary>
internal static class SignRules
{
    /// <summary>What an offset that is too large by <paramref name="wrong"/> does to a feature's place along an
    /// axis.</summary>
    public static double? OnAxis(OffsetKey key, Axis axis, double wrong)
    {
        // A datum that lies too far in plus puts everything cut in it as far in plus; so do the common offset and G92.
        if (key.IsDatum) return Same(key.Axis, axis) ? wrong : null;
        return key.Part switch
        {
            // The control takes the tool for longer than it is and stays up: the feature is left high.
            ToolPart.Length or ToolPart.LengthWear or ToolPart.Z or ToolPart.ZWear => axis == Axis.Z ? wrong : null,
            ToolPart.X or ToolPart.XWear => axis == Axis.X ? wrong : null,
            _ => null,
        };
    }

    /// <summary>What a cutter's diameter offset that is too large does to a size: outside features grow, inside ones
    /// shrink.</summary>
    public static double? OnDiameter(OffsetKey key, bool inside, bool lathe, double wrong)
    {
        if (lathe && (key.IsDatum ? key.Axis == Axis.X : key.Part is ToolPart.X or ToolPart.XWear)) return wrong;
        return key.IsTool && key.Part is ToolPart.Diameter or ToolPart.DiameterWear ? inside ? -wrong : wrong : null;
    }

    // On a lathe U and W are X and Z.
    private static bool Same(Axis held, Axis shown) => held == shown
        || (held == Axis.U && shown == Axis.X) || (held == Axis.W && shown == Axis.Z);
}
