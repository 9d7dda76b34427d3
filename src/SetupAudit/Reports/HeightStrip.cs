using SetupAudit.Datums;

namespace SetupAudit.Reports;

/// <summary>Z of each datum beside the plan, at the plan's scale: the axis that is forgotten most.</summary>
internal sealed class HeightStrip
{
    private const double BarWidth = 14;
    private const double SmallGap = 12;
    private const double BeyondShare = 0.35;
    private readonly IReadOnlyList<Level> _levels;
    private readonly Stretch _travel;

    private HeightStrip(IReadOnlyList<Level> levels, Stretch travel, Stretch box)
    {
        _levels = levels;
        _travel = travel;
        Box = box;
    }

    public Stretch Box { get; }

    /// <summary>The strip of a mill whose Z travel is configured and whose registers hold Z; else null.</summary>
    public static HeightStrip? Of(SetupReport report)
    {
        if (report.Machine.IsLathe || report.Machine.ZFromToolLengths) return null;
        if (!report.Machine.Travel.TryGetValue(Axis.Z, out var bounds) || bounds.High <= bounds.Low) return null;
        var common = report.Setup.Head.Registers.Where(view => view.Register.IsCommon).SelectMany(view => view.Axes)
            .Where(item => item.Axis == Axis.Z).Select(item => item.Value).FirstOrDefault();
        var levels = report.Setup.Head.Registers.Where(view => view.Register is { IsCommon: false, IsG92: false })
            .SelectMany(view => view.Axes.Where(item => item.Axis == Axis.Z).Select(item => new Level(
                view.Register.ToString(),
                item.Value.Before + (common?.Before ?? 0m),
                item.Value.After + (common?.After ?? 0m),
                AxisMarks.Of(report.Setup, view, Axis.Z, item.Value))))
            .Where(level => (level.After ?? level.Before) is not null).ToList();
        if (levels.Count == 0) return null;
        var travel = new Stretch((double)bounds.Low, (double)bounds.High);
        var reach = travel.Grown(travel.Length * BeyondShare);
        var box = levels.SelectMany(level => new[] { level.Before, level.After }).OfType<decimal>()
            .Select(value => (double)value).Where(reach.Holds).Aggregate(travel, (all, value) => all.With(value));
        return new HeightStrip(levels, travel, box);
    }

    public void Draw(Pen pen, double scale, double left, double top)
    {
        double Y(double value) => top + (Box.High - Box.Clamp(value)) * scale;
        pen.Box("table", left, Y(_travel.High), BarWidth, _travel.Length * scale);
        var bottom = top + Box.Length * scale + 4;
        var shown = _levels.Take(LabelStack.Room(top, bottom)).ToList();
        var gap = LabelStack.Gap(shown.Count, top, bottom);
        var heights = LabelStack.Spread(
            [.. shown.Select(level => Y((double)(level.After ?? level.Before ?? 0m)))], gap, bottom);
        for (var index = 0; index < shown.Count; index++)
        {
            var level = shown[index];
            var y = Y((double)(level.After ?? level.Before ?? 0m));
            if (level.Before is { } before)
                pen.Line("old", left, Y((double)before), left + BarWidth, Y((double)before));
            pen.Line(Css(level.Mark), left - 3, y, left + BarWidth + 3, y);
            pen.Leader(left + BarWidth + 3, y, left + BarWidth + 12, heights[index], left + BarWidth + 16);
            var isWrong = level.Mark is AxisMark.NotSet or AxisMark.NotYet or AxisMark.SetLate;
            var css = isWrong ? "name wrong" : "name";
            pen.Text(gap < SmallGap ? css + " small" : css,
                left + BarWidth + 18, heights[index] + 3.5, Name(level));
        }
        pen.Text("tick", left + BarWidth / 2, top + Box.Length * scale + 13,
            Figures.Number((decimal)_travel.Low), "middle");
        pen.Text("tick", left - 6, top + 8, $"+Z {Figures.Number((decimal)_travel.High)}", "end");
    }

    private static string Css(AxisMark mark) => mark switch
    {
        AxisMark.Set or AxisMark.SetLate => "new level",
        AxisMark.NotSet or AxisMark.NotYet => "level wrong",
        _ => "old level",
    };

    private static string Name(Level level) => level.Mark switch
    {
        AxisMark.Set => $"{level.Register} Z",
        AxisMark.SetLate => $"{level.Register} Z LATE",
        AxisMark.NotSet => $"{level.Register} Z NOT SET",
        AxisMark.NotYet => $"{level.Register} Z not yet",
        _ => $"{level.Register} Z carried",
    };

    private sealed record Level(string Register, decimal? Before, decimal? After, AxisMark Mark);
}
