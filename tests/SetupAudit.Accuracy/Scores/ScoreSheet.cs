using System.Globalization;
using SetupAudit.Accuracy.Scraps;
using SetupAudit.Accuracy.Trials;

namespace SetupAudit.Accuracy.Scores;

/// <summary>Writes the figures as tables.</summary>
internal sealed class ScoreSheet(TextWriter writer)
{
    public void Write(IReadOnlyList<SeedResult> results)
    {
        var verdicts = results.SelectMany(result => result.Verdicts).ToList();
        WriteClean(results);
        WriteCauses(verdicts);
        Line("Reliability of the first-ranked probability", "");
        WriteReliability(CauseScore.FirstRanked(verdicts));
        Line("Reliability of every probability given", "");
        WriteReliability(CauseScore.AllGiven(verdicts));
        WriteScraps([.. results.SelectMany(result => result.Scraps)]);
        WritePlates([.. results.Select(result => result.Plates).OfType<SeedResult>()]);
        var answers = new AnswerSheet(writer);
        answers.WriteClose([.. results.SelectMany(result => result.Close)]);
        answers.WriteTaught([.. results.SelectMany(result => result.Taught.Before)],
            [.. results.SelectMany(result => result.Taught.After)]);
    }

    private void WritePlates(IReadOnlyList<SeedResult> plates)
    {
        if (plates.Count == 0) return;
        Line("Loose plates", "");
        WriteClean(plates);
        Line("| registers on the plate | offsets | beyond ten own spreads | found | first | a right register named too |");
        Line("| --- | --: | --: | --: | --: | --: |");
        var verdicts = plates.SelectMany(result => result.Verdicts).Where(verdict => verdict.MustBeFound).ToList();
        foreach (var group in verdicts.GroupBy(verdict => verdict.Registers).OrderBy(group => group.Key))
            PlateRow(Text($"{group.Key}"), [.. group]);
        PlateRow("all", verdicts);
        Line("", "Reliability of the first-ranked probability on loose plates", "");
        WriteReliability(CauseScore.FirstRanked(verdicts));
    }

    private void PlateRow(string name, List<Verdict> all)
    {
        var found = all.Where(verdict => verdict.Found).ToList();
        Line(Text($"| {name} | {all.Count} | {Percent(all.Count(verdict => verdict.IsFarAlone), all.Count)} ")
            + Text($"| {Percent(found.Count, all.Count)} | {Percent(found.Count(verdict => verdict.RightFirst), found.Count)} ")
            + Text($"| {Percent(found.Count(verdict => verdict.OtherNamed), found.Count)} |"));
    }

    private void WriteScraps(IReadOnlyList<ScrapVerdict> scraps)
    {
        Line("| traced | parts | right first | all spoiled cycles named | none wrongly certain |");
        Line("| --- | --: | --: | --: | --: |");
        foreach (var group in scraps.GroupBy(scrap => scrap.Kind)) Row(group.Key.ToString(), [.. group]);
        Row("all", scraps);
        Line("", "Reliability of what a trace names first", "");
        WriteReliability([.. scraps.Select(scrap => (scrap.Probability, scrap.RightFirst))]);
    }

    // Cycles are asked for where the right offset was named.
    private void Row(string name, IReadOnlyList<ScrapVerdict> scraps)
    {
        var right = scraps.Where(scrap => scrap is { RightFirst: true, Kind: not ScrapKind.Unseen }).ToList();
        Line(Text($"| {name} | {scraps.Count} | {Percent(scraps.Count(scrap => scrap.RightFirst), scraps.Count)} ")
            + Text($"| {Percent(right.Count(scrap => scrap.Missed == 0), right.Count)} ")
            + Text($"| {Percent(right.Count(scrap => scrap.Accused == 0), right.Count)} |"));
    }

    private static string Percent(int part, int all) => Text($"{(all == 0 ? 100 : 100.0 * part / all):0.0} %");

    private void WriteClean(IReadOnlyList<SeedResult> results)
    {
        Clean("four or more", results.Sum(result => result.Clean), results.Sum(result => result.FalseAlarms.Count));
        Clean("fewer", results.Sum(result => result.Early), results.Sum(result => result.EarlyAlarms.Count));
        var doubted = results.Sum(result => result.Doubted.Count);
        if (doubted > 0) Line(Text($"Clean setups that another rule doubted: {doubted}."));
        Line("");
    }

    private void Clean(string earlier, int clean, int alarms) => Line(Text(
        $"Clean setups with {earlier} earlier ones: {clean}; a jump was found in {alarms} ({100.0 * alarms / Math.Max(1, clean):0.00} %)."));

    private void WriteCauses(IReadOnlyList<Verdict> verdicts)
    {
        Line("| planted | offsets | found | first | first or alike | Brier | log loss |");
        Line("| --- | --: | --: | --: | --: | --: | --: |");
        foreach (var group in verdicts.GroupBy(verdict => verdict.Cause)) Row(group.Key, CauseScore.Of([.. group]));
        Row("all", CauseScore.Of(verdicts));
        Line("");
    }

    private void Row(string name, CauseScore score)
    {
        var counts = Text($"| {name} | {score.Planted} | {score.Recall * 100:0.0} %");
        var first = Text($"| {score.StrictAccuracy * 100:0.0} % | {score.FairAccuracy * 100:0.0} %");
        Line($"{counts} {first} {Text($"| {score.Brier:0.000} | {score.LogLoss:0.000} |")}");
    }

    private void WriteReliability(IReadOnlyList<(double Probability, bool True)> given)
    {
        var bins = Scoring.Reliability(given);
        Line("| given | count | mean given | came true |");
        Line("| --- | --: | --: | --: |");
        foreach (var bin in bins)
            Line(Text($"| {bin.Low:0.0} - {bin.High:0.0} | {bin.Count} | {bin.Given:0.000} | {bin.Observed:0.000} |"));
        Line(Text($"Expected calibration error: {Scoring.CalibrationError(bins):0.0000}"), "");
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private void Line(params IEnumerable<string> lines)
    {
        foreach (var line in lines) writer.WriteLine(line);
    }
}
