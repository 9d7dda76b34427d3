namespace SetupAudit.Reports;

/// <summary>Spreads labels that want to stand beside their points so that none covers another.</summary>
internal static class LabelStack
{
    private const double UsualGap = 13;
    private const double LeastGap = 9.5;

    /// <summary>How many labels can stand one above the other between two heights.</summary>
    public static int Room(double top, double bottom) => Math.Max(1, (int)((bottom - top) / LeastGap));

    /// <summary>How far apart that many labels stand.</summary>
    public static double Gap(int count, double top, double bottom) =>
        Math.Max(LeastGap, Math.Min(UsualGap, (bottom - top) / Math.Max(1, count)));

    /// <summary>
    /// The heights to write at, in the order given: as near as can be to those wanted, at least a gap apart.
    /// </summary>
    public static double[] Spread(IReadOnlyList<double> wanted, double gap, double bottom)
    {
        var order = Enumerable.Range(0, wanted.Count).OrderBy(index => wanted[index]).ToArray();
        var heights = wanted.ToArray();
        for (var place = 1; place < order.Length; place++)
            heights[order[place]] = Math.Max(heights[order[place]], heights[order[place - 1]] + gap);
        var limit = bottom;
        for (var place = order.Length - 1; place >= 0; place--)
        {
            heights[order[place]] = Math.Min(heights[order[place]], limit);
            limit = heights[order[place]] - gap;
        }
        return heights;
    }
}
