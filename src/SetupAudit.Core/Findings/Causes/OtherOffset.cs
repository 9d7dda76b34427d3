using System.Globalization;
using SetupAudit.Datums;

namespace SetupAudit.Findings.Causes;

/// <summary>The causes that take a value from the wrong place: another register, an older state, another tool's length,
/// axes swapped.</summary>
internal sealed class OtherOffset(
    string name, double together, Func<CauseQuestion, OffsetKey, IEnumerable<Guess>> guesses) : ICauseModel
{
    public string Name => name;

    public double Together => together;

    public IEnumerable<Guess> Guesses(CauseQuestion question, OffsetKey key) => guesses(question, key);

    /// <summary>Another register's values were copied here, or what was meant for another was set here.</summary>
    public static OtherOffset Register { get; } = new("other-register", 0.85, (question, key) =>
    {
        if (!key.IsDatum) return [];
        var others = question.Table.Registers
            .Where(register => register != key.Register && !register.IsCommon && !register.IsG92)
            .Select(register => OffsetKey.Datum(register, key.Axis)).ToList();
        var guesses = new List<Guess>();
        foreach (var other in others)
        {
            if (question.Table.Value(other) is { } stands && stands != 0m)
                guesses.Add(new Guess(
                    (double)stands, 0, 0, 0.5 / others.Count, $"the value that stands in {other.Register}"));
            if (question.Usual(other) is { } usual)
                guesses.Add(new Guess(
                    (double)usual.Location, 1, 0, 0.5 / others.Count, $"the usual value of {other.Register}"));
        }
        return guesses;
    });

    /// <summary>An older state came back, to the last digit: of another job, or of before this setup.</summary>
    public static OtherOffset Older { get; } = new("older-values", 0.7, (question, key) =>
    {
        var before = question.Setup.Before.Value(key);
        var older = question.Case.Past.Where(value => value.Key == key && value.Value != 0m)
            .Select(value => value.Value)
            .Concat(before is { } stood && stood != 0m ? [stood] : []).Distinct().ToList();
        return older.Select(value => new Guess((double)value, 0, 0, 1.0 / older.Count,
            $"the older value {value.ToString(CultureInfo.InvariantCulture)}"));
    });

    /// <summary>The surface was touched, or the tool is called, with another tool's length.</summary>
    public static OtherOffset ToolLength { get; } = new("other-tool-length", 0.02, (question, key) =>
        key.IsTool ? OtherTools(question, key) : key.Axis == Axis.Z ? LengthDifferences(question, key) : []);

    /// <summary>Two axes' values in each other's place.</summary>
    public static OtherOffset AxesSwapped { get; } = new("axes-swapped", 0.9, (question, key) =>
    {
        if (!key.IsDatum || key.Axis is not (Axis.X or Axis.Y or Axis.Z)) return [];
        return new[] { Axis.X, Axis.Y, Axis.Z }.Where(axis => axis != key.Axis)
            .Select(axis => (Axis: axis, Expected: question.Expected(OffsetKey.Datum(key.Register, axis))))
            .Where(other => !double.IsNaN(other.Expected))
            // X and Y are neighbours on every screen and paper; Z is seldom mistaken for either.
            .Select(other => new Guess(other.Expected, 1, 0, key.Axis != Axis.Z && other.Axis != Axis.Z ? 0.8 : 0.2,
                $"the value of {other.Axis}"));
    });

    private static IEnumerable<Guess> OtherTools(CauseQuestion question, OffsetKey key)
    {
        var others = question.Table.Tools.Where(tool => tool != key.Tool)
            .Select(tool => (Tool: tool, Value: question.Table.Value(OffsetKey.OfTool(tool, key.Part))))
            .Where(other => other.Value is not null and not 0m).ToList();
        foreach (var (tool, value) in others)
        {
            yield return new Guess(
                (double)value.GetValueOrDefault(), 0, 0, 0.5 / others.Count, $"the value of T{tool}");
            yield return new Guess(
                (double)value.GetValueOrDefault(), 1, 0, 0.5 / others.Count, $"the value of T{tool}");
        }
    }

    // With the wrong length in force the surface lies off by the difference of the two lengths.
    private static IEnumerable<Guess> LengthDifferences(CauseQuestion question, OffsetKey key)
    {
        var expected = question.Expected(key);
        var lengths = question.Table.Tools
            .Select(tool => (Tool: tool, Value: question.Table.Value(OffsetKey.OfTool(tool, ToolPart.Length))))
            .Where(item => item.Value is not null and not 0m)
                .Select(item => (item.Tool, Value: (double)item.Value.GetValueOrDefault())).ToList();
        if (double.IsNaN(expected) || lengths.Count < 2) yield break;
        var probe = lengths.Where(item => item.Tool == question.Machine.ProbeTool).ToList();
        var right = probe.Count > 0 ? probe : lengths;
        var pairs = right.SelectMany(
            item => lengths.Where(other => other.Tool != item.Tool).Select(other => (item, other))).Take(200).ToList();
        foreach (var (item, other) in pairs)
        {
            var difference = other.Value - item.Value;
            foreach (var shift in new[] { difference, -difference })
                yield return new Guess(
                    expected + shift, 1, 0, 0.5 / pairs.Count,
                        $"the length of T{other.Tool} in place of T{item.Tool}'s");
        }
    }
}
