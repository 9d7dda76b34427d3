using System.Globalization;
using SetupAudit.Changes;
using SetupAudit.Datums;

namespace SetupAudit.Findings.Causes;

/// <summary>The causes that take a value from the wrong place: another register, an older state, another tool's length,
/// axes swapped.</summary>
internal sealed class OtherOffset(
    string name, Manner manner, double together, Func<OffsetKey, double> share,
    Func<CauseQuestion, OffsetKey, IEnumerable<Guess>> guesses) : ICauseModel
{
    public string Name => name;

    public Manner Manner => manner;

    public double Together => together;

    public double Share(OffsetKey key) => share(key);

    public IEnumerable<Guess> Guesses(CauseQuestion question, OffsetKey key) => guesses(question, key);

    /// <summary>Another register's values were copied here, or what was meant for another was set here.</summary>
    public static OtherOffset Register { get; } = new("other-register", Manner.Typed, 0.85, _ => 0.9, (question, key) =>
    {
        if (!key.IsDatum) return [];
        var others = question.Table.Registers
            .Where(register => register != key.Register && !register.IsCommon && !register.IsG92)
            .Select(register => OffsetKey.Datum(register, key.Axis)).ToList();
        return others.SelectMany(other => FromRegister(question, other, 1.0 / others.Count));
    });

    /// <summary>An older state came back, to the last digit: of another job, or of before this setup.</summary>
    public static OtherOffset Older { get; } = new("older-values", Manner.Afterwards, 0.7, _ => 0.9, (question, key) =>
    {
        var before = question.Setup.Before.Value(key);
        var older = question.Case.Past.Where(value => value.Key == key && value.Value != 0m)
            .Select(value => value.Value)
            .Concat(before is { } stood && stood != 0m ? [stood] : []).Distinct().ToList();
        return older.Select(value => new Guess((double)value, 0, 0, 1.0 / older.Count,
            $"the older value {value.ToString(CultureInfo.InvariantCulture)}"));
    });

    /// <summary>The surface was touched, or the tool is called, with another tool's length.</summary>
    public static OtherOffset ToolLength { get; } = new(
        "other-tool-length", Manner.AtTheTouch, 0.02, key => key.IsTool ? 0.4 : 0.6, (question, key) =>
            Shares.IsLength(key) ? OtherTools(question, key) : Shares.IsZ(key) ? LengthDifferences(question, key) : []);

    /// <summary>Two axes' values in each other's place.</summary>
    public static OtherOffset AxesSwapped { get; } = new(
        "axes-swapped", Manner.Typed, 0.9, key => Shares.IsXy(key) ? 0.9 : 0.2, (question, key) =>
            !key.IsDatum || key.Axis is not (Axis.X or Axis.Y or Axis.Z)
                ? []
                : new[] { Axis.X, Axis.Y, Axis.Z }.Where(axis => axis != key.Axis)
                    .SelectMany(axis => FromAxis(question, key, OffsetKey.Datum(key.Register, axis))));

    private static IEnumerable<Guess> FromRegister(CauseQuestion question, OffsetKey other, double weight)
    {
        var stood = question.Setup.Before.Value(other);
        foreach (var value in new[] { question.Table.Value(other), stood }.Distinct())
            if (value is { } known && known != 0m)
                yield return new Guess((double)known, 0, 0, 0.4 * weight, value == stood
                    ? $"the value that stood in {other.Register}"
                    : $"the value that stands in {other.Register}");
        if (question.Usual(other) is { } usual)
            yield return new Guess((double)usual.Location, 1, 0, 0.4 * weight, $"the usual value of {other.Register}")
            {
                VariesAs = usual,
            };
    }

    private static IEnumerable<Guess> FromAxis(CauseQuestion question, OffsetKey key, OffsetKey other)
    {
        // X and Y are neighbours on every screen and paper; Z is seldom mistaken for either.
        var weight = Shares.IsXy(key) && Shares.IsXy(other) ? 0.85 : Shares.IsXy(key) ? 0.15 : 0.5;
        if (question.Usual(other) is { } usual)
            yield return new Guess((double)usual.Location, 1, 0, weight / 2, $"the value of {other.Axis}")
            {
                VariesAs = usual,
            };
        foreach (var value in new[] { question.Intended(other), Kept(question, other) }.OfType<double>().Distinct())
            yield return new Guess(value, 0, 0, weight / 2, $"the value of {other.Axis}");
    }

    // Where only one of the two was mistaken, the other still stands, and the copy is exact.
    private static double? Kept(CauseQuestion question, OffsetKey other) =>
        question.Table.Value(other) is { } stands ? (double)stands : null;

    private static IEnumerable<Guess> OtherTools(CauseQuestion question, OffsetKey key)
    {
        var others = Lengths(question.Table, key.Part).Where(item => item.Tool != key.Tool).ToList();
        foreach (var (tool, value) in others)
        {
            yield return new Guess(value, 0, 0, 0.5 / others.Count, $"the value of T{tool}");
            yield return new Guess(value, 0, question.FromMm(Remeasured), 0.5 / others.Count, $"the value of T{tool}");
        }
    }

    // In mm: the same tool measured again.
    private const double Remeasured = 0.01;

    // With the wrong length in force the surface lies off by the difference of the two lengths.
    private static IEnumerable<Guess> LengthDifferences(CauseQuestion question, OffsetKey key)
    {
        var expected = question.Expected(key);
        var lengths = Lengths(question.Table, ToolPart.Length);
        if (double.IsNaN(expected) || lengths.Count < 2) yield break;
        var probe = question.Machine.ProbeTool;
        var hasProbe = lengths.Exists(item => item.Tool == probe);
        foreach (var (touching, right) in lengths)
        {
            // What touches is the probe, where the machine has one, and else any tool.
            var weight = !hasProbe ? 1.0 / lengths.Count : touching == probe ? 0.6 : 0.4 / (lengths.Count - 1);
            foreach (var (assumed, wrong) in lengths)
            {
                if (assumed == touching) continue;
                var says = $"the length of T{assumed} in place of T{touching}'s";
                var each = weight / (lengths.Count - 1);
                yield return new Guess(expected + right - wrong, 1, 0, 0.8 * each, says);
                // Where lengths are kept the other way round.
                yield return new Guess(expected + wrong - right, 1, 0, 0.2 * each, says);
            }
        }
    }

    private static List<(int Tool, double Value)> Lengths(OffsetTable table, ToolPart part) =>
    [
        .. table.Tools.Select(tool => (tool, Value: table.Value(OffsetKey.OfTool(tool, part))))
            .Where(item => item.Value is not null and not 0m)
            .Select(item => (item.tool, (double)item.Value.GetValueOrDefault())),
    ];
}
