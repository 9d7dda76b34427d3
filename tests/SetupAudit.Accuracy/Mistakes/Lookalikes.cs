using System.Globalization;
using SetupAudit.Datums;

namespace SetupAudit.Accuracy.Mistakes;

/// <summary>
/// What other mistakes would have left the same number, as near as the usual spread tells: no reasoning can know which
/// of them it was. The open cause is in no such list, since it predicts nothing.
/// </summary>
internal sealed class Lookalikes(Scene scene)
{
    private readonly double _mm = scene.Machine.Mm;
    private readonly double _step = (double)scene.Machine.Config.Resolution;

    /// <summary>The causes that would put an offset where it is.</summary>
    public IReadOnlySet<string> Of(OffsetKey key, decimal value)
    {
        var (usual, spread) = scene.Job.Usually(key);
        // Three spreads of the value, and what is left of the location's own error.
        bool Fits(double expected, double carried, double extra) => Math.Abs((double)value - expected)
            <= 3 * Math.Sqrt(spread * carried * spread * carried * 1.3 + extra * extra) + 2 * _step;
        var causes = new HashSet<string>(StringComparer.Ordinal);
        foreach (var (cause, by, extra) in Shifts(key))
            if (Fits(usual + by, 1, extra) || Fits(usual - by, 1, extra)) causes.Add(cause);
        foreach (var (cause, expected, carried) in Numbers(key, usual))
            if (Fits(expected, carried, 0)) causes.Add(cause);
        foreach (var (cause, copy) in Copies(key))
            if (value == copy) causes.Add(cause);
        if (IsTypo(usual, spread, (double)value)) causes.Add("mistyped-digit");
        return causes;
    }

    private IEnumerable<(string Cause, double By, double Extra)> Shifts(OffsetKey key)
    {
        var config = scene.Machine.Config;
        var isZ = key.IsDatum && key.Axis == Axis.Z;
        var isEdge = key.IsDatum && !isZ;
        foreach (var gauge in config.Gauges)
            if (isZ || key.IsTool) yield return ("gauge-height", (double)gauge, 0);
        if (key.IsTool) yield break;
        if (scene.Job.Sheet is not null)
        {
            yield return ("other-corner", scene.Job.Stock[key.Axis], scene.Job.StockSpread);
            if (isEdge) yield return ("centre-for-edge", scene.Job.Stock[key.Axis] / 2, scene.Job.StockSpread / 2);
        }
        yield return ("stylus-radius", (double)(config.StylusDiameter ?? 0m) / 2, 0);
        foreach (var finder in config.EdgeFinders)
            if (isEdge) yield return ("edge-finder-radius", (double)finder / 2, 0);
        if (config is { Search: { } search, Standoff: { } standoff })
            yield return ("search-end", (double)(search - standoff), 0);
        if (!isZ) yield break;
        foreach (var height in config.Risers.Concat(config.Risers.SelectMany(one => config.Risers.Select(two => one + two))))
            yield return ("riser-height", (double)height, 0);
        foreach (var lift in _mm == 1 ? [10, 20, 25, 50, 100] : (double[])[0.5, 1, 2, 4])
            yield return ("lift-left-in", lift, 0);
        foreach (var one in scene.Machine.Rack)
            foreach (var two in scene.Machine.Rack)
                if (one.Number != two.Number)
                    yield return ("other-tool-length", (double)(scene.Should(one.LengthKey) - scene.Should(two.LengthKey)), 0);
    }

    private IEnumerable<(string Cause, double Expected, double Carried)> Numbers(OffsetKey key, double usual)
    {
        yield return ("inch-mm-mixed", usual * 25.4, 25.4);
        yield return ("inch-mm-mixed", usual / 25.4, 1 / 25.4);
        for (var power = 0.0001; power < 20_000; power *= 10)
            if (Math.Abs(power - 1) > 0.5) yield return ("decimal-point-lost", usual * power, power);
        yield return ("sign-flipped", -usual, 1);
        yield return ("applied-twice", 2 * usual, 2);
        var before = (double)scene.Before[key];
        yield return ("applied-twice", 2 * usual - before, 2);
        yield return ("applied-twice", usual + before, 1);
        if (key.IsTool) yield return ("diameter-for-radius", usual * 2, 2);
        if (key.IsTool) yield return ("diameter-for-radius", usual / 2, 0.5);
        if (key.IsTool)
        {
            foreach (var tool in scene.Machine.Rack.Where(tool => tool.LengthKey != key))
                yield return ("other-tool-length", (double)scene.Should(tool.LengthKey), 0.2);
            yield break;
        }
        foreach (var axis in scene.Datum.Places.Keys.Where(axis => axis != key.Axis))
            yield return ("axes-swapped", scene.Datum.Places[axis].Usual, 1);
        foreach (var datum in scene.Machine.Jobs.SelectMany(job => job.Datums).Where(datum => datum.Register != key.Register))
            yield return ("other-register", datum.Places[key.Axis].Usual, 1);
    }

    private IEnumerable<(string Cause, decimal Copy)> Copies(OffsetKey key)
    {
        if (key.IsTool) yield break;
        foreach (var (other, value) in scene.Before)
            if (other.IsDatum && other.Axis == key.Axis && other.Register != key.Register)
                yield return ("other-register", value);
        foreach (var (_, control) in scene.History.States) yield return ("older-values", control[key]);
        yield return ("older-values", scene.Before[key]);
    }

    /// <summary>One digit of the usual value replaced, two exchanged, one left out or doubled, whatever follows within
    /// the spread.</summary>
    private bool IsTypo(double usual, double spread, double value)
    {
        var places = scene.Machine.Config.Resolution == 0.001m ? 3 : 4;
        // A digit below the spread is not known, so the number is tried at the ends of what is usual as well.
        double[] tried = [usual - 2 * spread, usual - spread, usual, usual + spread, usual + 2 * spread];
        return tried.Any(number => Typos(Math.Abs(number), places)
            .Any(typo => Math.Abs(typo * Math.Sign(usual) - value) <= spread + 2 * _step));
    }

    private static IEnumerable<double> Typos(double number, int places)
    {
        var text = number.ToString("F" + places.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        for (var at = 0; at < text.Length; at++)
        {
            if (text[at] == '.') continue;
            for (var digit = '0'; digit <= '9'; digit++)
                if (digit != text[at]) yield return Number(text[..at] + digit + text[(at + 1)..]);
            var next = text.AsSpan(at + 1).IndexOfAnyInRange('0', '9') + at + 1;
            if (next > at)
                yield return Number(text[..at] + text[next] + text[(at + 1)..next] + text[at] + text[(next + 1)..]);
            yield return Number(text.Remove(at, 1));
            yield return Number(text.Insert(at, text[at].ToString()));
        }
    }

    private static double Number(string text) => double.Parse("0" + text, CultureInfo.InvariantCulture);
}
