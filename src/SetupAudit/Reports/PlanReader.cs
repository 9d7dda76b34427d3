using SetupAudit.Datums;
using SetupAudit.Shapes;

namespace SetupAudit.Reports;

/// <summary>Gathers the places of a setup's datums for the drawing.</summary>
internal sealed class PlanReader(SetupReport report, Axis across, Axis up)
{
    private readonly SetupView _head = report.Setup.Head;

    public bool CommonAdded => _head.Registers.Where(view => view.Register.IsCommon).SelectMany(view => view.Axes)
        .Any(item => (item.Axis == across || item.Axis == up) && item.Value.After is not (null or 0m));

    public IReadOnlyList<PlanPoint> Points() =>
        [.. _head.Registers.Where(view => view.Register is { IsCommon: false, IsG92: false }).Select(Point)
            .Where(point => point.Shown is not null)];

    private PlanPoint Point(RegisterView register)
    {
        var place = Place(register, value => value.After);
        return new PlanPoint
        {
            Register = register,
            Old = Place(register, value => value.Before),
            New = place,
            Set = Value(register, across) is { Set: true } || Value(register, up) is { Set: true },
            Turned = (double)(Value(register, Axis.R)?.After ?? 0m),
            Stock = place is { } at ? Stock(register.Register, at) : null,
        };
    }

    private (double H, double V)? Place(RegisterView register, Func<OffsetView, decimal?> which)
    {
        if (Value(register, across) is not { } h || which(h) is not { } left) return null;
        if (Value(register, up) is not { } v || which(v) is not { } high) return null;
        return ((double)(left + Common(across, which)), (double)(high + Common(up, which)));
    }

    private decimal Common(Axis axis, Func<OffsetView, decimal?> which) =>
        _head.Registers.FirstOrDefault(view => view.Register.IsCommon) is { } common && Value(common, axis) is { } value
            ? which(value) ?? 0m
            : 0m;

    private static OffsetView? Value(RegisterView register, Axis axis) =>
        register.Axes.Where(item => item.Axis == axis).Select(item => item.Value).FirstOrDefault();

    private (Stretch H, Stretch V)? Stock(Register register, (double H, double V) at)
    {
        if (report.Machine.IsLathe) return null;
        foreach (var sheet in _head.Sheets)
            foreach (var datum in sheet.Datums)
                if (datum.Register == register && datum is { At: { } where }
                    && sheet is { StockX: { } x, StockY: { } y })
                    return Outline(where, at, (double)x, (double)y);
        return null;
    }

    // "back-left-top": depth, side, height, seen from above with +X right and +Y back.
    private static (Stretch H, Stretch V)? Outline(string where, (double H, double V) at, double x, double y)
    {
        var words = where.Split('-');
        if (words.Length != 3) return null;
        var left = at.H - x * Share(words[1], "left", "right");
        var front = at.V - y * Share(words[0], "front", "back");
        return (new Stretch(left, left + x), new Stretch(front, front + y));
    }

    private static double Share(string word, string low, string high) => word == low ? 0 : word == high ? 1 : 0.5;
}
