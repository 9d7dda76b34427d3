using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Shapes;
using SetupAudit.Units;

namespace SetupAudit.Reports;

/// <summary>
/// The table a hurried reader looks at: each register by each axis, and what was done to it in this setup.
/// </summary>
internal static class DatumSection
{
    /// <summary>With more registers than this the rows are set close, so that a tombstone stays on a page.</summary>
    private const int RegistersRoomy = 8;

    public static void Write(Markup page, SetupReport report)
    {
        var setup = report.Setup;
        using var section = page.In("section", "datums");
        page.Put("h2", "Datums");
        if (setup.Head.Registers.Count == 0)
        {
            page.Put("p", "No register was moved, called or named in this setup.", "quiet");
            return;
        }
        var axes = setup.Head.Registers.SelectMany(register => register.Axes).Select(item => item.Axis)
            .Distinct().Order().ToList();
        using (page.In("table", setup.Head.Registers.Count > RegistersRoomy ? "grid dense" : "grid"))
        {
            Heading(page, axes, setup.Head.Unit);
            using var body = page.In("tbody");
            foreach (var register in setup.Head.Registers) Row(page, report, register, axes);
        }
        Legend(page);
        LiftNotes(page, report);
    }

    private static void Heading(Markup page, IReadOnlyList<Axis> axes, Unit machine)
    {
        using var head = page.In("thead");
        using var row = page.In("tr");
        page.Put("th", "Register");
        foreach (var axis in axes)
        {
            using var cell = page.In("th");
            page.Text(axis.ToString());
            page.Put("span", Length.ShortName(OffsetKey.Datum(Register.Common, axis).UnitOn(machine)), "unit");
        }
    }

    private static void Row(Markup page, SetupReport report, RegisterView register, IReadOnlyList<Axis> axes)
    {
        using var row = page.In("tr");
        using (page.In("th", null, ("scope", "row")))
        {
            page.Text(register.Register.ToString());
            page.Put("span", Use(register), "beside");
        }
        foreach (var axis in axes)
        {
            var index = register.Axes.ToList().FindIndex(item => item.Axis == axis);
            if (index < 0) page.Put("td", "\u2013", "none");
            else Cell(page, report, register, axis, register.Axes[index].Value);
        }
    }

    private static string Use(RegisterView register) => register switch
    {
        { Register.IsCommon: true } => "adds to all",
        { Cuts: true } => "a program cuts in it",
        { Cuts: false } => "no program cuts in it",
        _ => "not known if cut in",
    };

    private static void Cell(Markup page, SetupReport report, RegisterView register, Axis axis, OffsetView value)
    {
        var mark = AxisMarks.Of(report.Setup, register, axis, value);
        using var cell = page.In("td", "mark " + Css(mark));
        using (page.In("p", "state"))
        {
            Sign(page, mark);
            page.Text(AxisMarks.Word(mark) + (value.By is { } by ? ", " + ByWord(by) : ""));
        }
        page.Put("p", value.After is null ? "?" : Figures.Number(value.After), "value");
        page.Put("p", Moved(report, value), "beside");
        if (mark == AxisMark.SetLate && value.SinceUtc is { } late)
            page.Put("p", $"only at {new Figures(report.Zone).LocalShort(late)}, after cutting had begun", "beside");
    }

    private static string Moved(SetupReport report, OffsetView value)
    {
        if (value is { Set: true, Before: { } before, Delta: { } delta })
            return delta == 0
                ? "touched, the same value"
                : $"was {Figures.Number(before)}, moved {Figures.Signed(delta)}";
        if (value.Set) return "was unknown";
        return value.SinceUtc is { } since && value.After is not null
            ? $"since {new Figures(report.Zone).LocalDay(since)} or before"
            : "";
    }

    public static string ByWord(ChangedBy by) => by switch
    {
        ChangedBy.Measured => "measured",
        ChangedBy.Entered => "entered",
        ChangedBy.Program => "by program",
        ChangedBy.Restored => "restored",
        _ => "not known by what",
    };

    public static string Css(AxisMark mark) => mark switch
    {
        AxisMark.Set => "is-set",
        AxisMark.SetLate => "set-late",
        AxisMark.NotSet or AxisMark.NotYet => "not-set",
        AxisMark.Carried => "carried",
        _ => "unknown",
    };

    /// <summary>A full disc, a crossed box, an empty ring or a dotted ring: told apart without colour.</summary>
    public static void Sign(Markup page, AxisMark mark)
    {
        using var sign = page.In("svg", "sign " + Css(mark),
            ("viewBox", "0 0 12 12"), ("width", "11"), ("height", "11"), ("aria-hidden", "true"));
        if (mark is AxisMark.NotSet or AxisMark.NotYet or AxisMark.SetLate)
        {
            page.Mark("rect", null, ("x", "1"), ("y", "1"), ("width", "10"), ("height", "10"));
            page.Mark("path", null, ("d", mark == AxisMark.SetLate ? "M3 6 L9 6" : "M3 3 L9 9 M9 3 L3 9"));
        }
        else page.Mark("circle", null, ("cx", "6"), ("cy", "6"), ("r", "4.6"));
    }

    private static void Legend(Markup page)
    {
        using var legend = page.In("p", "legend");
        foreach (var (mark, means) in new[]
        {
            (AxisMark.Set, "changed or touched in this setup"),
            (AxisMark.NotSet, "needed, and no source shows that it was set"),
            (AxisMark.SetLate, "set only after cutting had begun"),
            (AxisMark.Carried, "holds what it held before"),
            (AxisMark.Unknown, "no source has shown a value"),
        })
        {
            using var item = page.In("span");
            Sign(page, mark);
            page.Put("b", AxisMarks.Word(mark));
            page.Text(" " + means);
        }
    }

    private static void LiftNotes(Markup page, SetupReport report)
    {
        var figures = new Figures(report.Zone);
        var unit = report.Setup.Head.Unit;
        foreach (var lift in report.Setup.Head.Lifts)
        {
            var put = lift.PutTo is { } value
                ? $"put to {Figures.WithUnit(value, unit)}"
                    + (lift.PutUtc is { } at ? $" at {figures.LocalClock(at)}" : "")
                : "not put back in this setup";
            page.Put("p", $"{lift.Key.Register} {lift.Key.Axis} was raised from {Figures.WithUnit(lift.Start, unit)} "
                + $"to {Figures.WithUnit(lift.Raised, unit)} at {figures.LocalClock(lift.RaisedUtc)}, "
                + $"{put}.", "beside");
        }
    }
}
