using System.Globalization;
using SetupAudit.Accuracy.Trials;

namespace SetupAudit.Accuracy.Scores;

/// <summary>Writes the tables of close calls, and of what reviews teach.</summary>
internal sealed class AnswerSheet(TextWriter writer)
{
    public void WriteClose(IReadOnlyList<Answer> answers)
    {
        if (answers.Count == 0) return;
        WriteClose("predictions apart by", [.. CloseCalls.Order.Select(gap => (gap, answers.Where(answer => answer.Group == gap)))]);
        WriteClose("alike", [.. answers.GroupBy(answer => answer.Pair ?? "").Select(pair => (pair.Key, pair.AsEnumerable()))]);
        WriteClose("together", [("all", answers)]);
        WriteReliability("Reliability of close calls", answers);
    }

    private void WriteClose(string heading, IReadOnlyList<(string Name, IEnumerable<Answer> Answers)> groups)
    {
        writer.WriteLine($"| {heading} | offsets | first | mean given to the first | Brier | calibration error |");
        writer.WriteLine("| --- | --: | --: | --: | --: | --: |");
        foreach (var (name, answers) in groups) WriteClose(name, [.. answers]);
        writer.WriteLine();
    }

    private void WriteClose(string name, List<Answer> answers) => Line(
        answers.Count == 0 ? (FormattableString)$"| {name} | 0 | | | | |" : $"| {name} | {answers.Count} | {answers.Average(Hit) * 100:0.0} % | {answers.Average(answer => answer.First):0.000} | {answers.Average(Brier):0.000} | {Error(answers):0.000} |");

    public void WriteTaught(IReadOnlyList<Answer> before, IReadOnlyList<Answer> after)
    {
        if (before.Count == 0) return;
        writer.WriteLine("| common mistake | offsets | first before | after | log loss before | after | calibration error before | after |");
        writer.WriteLine("| --- | --: | --: | --: | --: | --: | --: | --: |");
        foreach (var group in before.GroupBy(answer => answer.Group).OrderBy(group => group.Key, StringComparer.Ordinal))
            WriteTaught(group.Key, [.. group], [.. after.Where(answer => answer.Group == group.Key)]);
        WriteTaught("all", before, after);
        writer.WriteLine();
        WriteReliability("Reliability before reviews", before);
        WriteReliability("Reliability after reviews", after);
    }

    private void WriteTaught(string name, IReadOnlyList<Answer> before, IReadOnlyList<Answer> after)
    {
        Line($"| {name} | {before.Count} | {before.Average(Hit) * 100:0.0} % | {after.Average(Hit) * 100:0.0} % ", end: false);
        Line($"| {before.Average(Loss):0.000} | {after.Average(Loss):0.000} | {Error(before):0.000} | {Error(after):0.000} |");
    }

    private void WriteReliability(string title, IReadOnlyList<Answer> answers)
    {
        writer.WriteLine(title);
        writer.WriteLine();
        writer.WriteLine("| given | count | mean given | came true |");
        writer.WriteLine("| --- | --: | --: | --: |");
        foreach (var bin in Bins(answers))
            Line($"| {bin.Low:0.0} - {bin.High:0.0} | {bin.Count} | {bin.Given:0.000} | {bin.Observed:0.000} |");
        writer.WriteLine();
    }

    private static IReadOnlyList<ReliabilityBin> Bins(IReadOnlyList<Answer> answers) =>
        Scoring.Reliability([.. answers.Select(answer => (answer.First, answer.IsRight))]);

    private static double Error(IReadOnlyList<Answer> answers) => Scoring.CalibrationError(Bins(answers));

    private static double Hit(Answer answer) => answer.IsRight ? 1 : 0;

    private static double Loss(Answer answer) => answer.LogLoss;

    private static double Brier(Answer answer) => Scoring.Brier(
        answer.Causes.Select(cause => (cause.Name, (double)cause.Probability)), answer.Truth);

    private void Line(FormattableString text, bool end = true) =>
        writer.Write(text.ToString(CultureInfo.InvariantCulture) + (end ? writer.NewLine : ""));
}
