using SetupAudit.Datums;

namespace SetupAudit.Findings.Causes;

/// <summary>
/// How likely an offset of a kind is among those that a mistake hits. Common practice, no source: rounded guesses,
/// which
/// only weigh where two causes predict the same.
/// </summary>
internal static class Shares
{
    private const double Seldom = 0.1;

    /// <summary>What is typed is a datum, and now and then a tool.</summary>
    public static double Typed(OffsetKey key) => key.IsTool ? Seldom : 0.5;

    public static double Applied(OffsetKey key) => key.IsDatum ? 0.5 : IsLength(key) || key.IsWear ? Seldom / 2 : 0;

    public static double Diameter(OffsetKey key) => key.IsDatum ? Seldom : 1;

    /// <summary>What lies elsewhere is the fixture along the table, seldom its height, and seldom a tool.</summary>
    public static double Moved(OffsetKey key) => IsXy(key) ? 0.7 : key.IsTool ? Seldom : 0.3;

    public static double EdgesAndSeldomZ(OffsetKey key) => IsXy(key) ? 0.7 : Seldom;

    public static double ZAndSeldomEdges(OffsetKey key) => IsZ(key) ? 0.8 : Seldom;

    public static bool IsZ(OffsetKey key) => key.IsDatum && key.Axis == Axis.Z;

    public static bool IsXy(OffsetKey key) => key.IsDatum && key.Axis is Axis.X or Axis.Y;

    public static bool IsLength(OffsetKey key) => key.IsTool && key.Part is ToolPart.Length or ToolPart.Z;
}
