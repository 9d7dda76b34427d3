using System.Globalization;
using SetupAudit.Accuracy.Scraps;
using SetupAudit.Accuracy.Trials;

namespace SetupAudit.Accuracy.Scores;

/// <summary>Every planted offset as a line of delimited text, for looking into.</summary>
internal static class CaseList
{
    public static void Write(TextWriter writer, IEnumerable<Verdict> verdicts)
    {
        writer.WriteLine("seed,machine,unit,program,sheet,earlier,cause,key,right,value,spread,must,found,first,p_first,p_truth,fair,alike,causes");
        foreach (var item in verdicts)
        {
            var truth = item.Probability(item.Cause);
            var first = item.First is { } name ? item.Probability(name) : 0;
            var causes = item.Causes.Take(4).Select(cause => $"{cause.Name}={Text(cause.Probability)}");
            writer.WriteLine(string.Join(',',
                Text(item.Seed), item.Machine, item.Unit, item.Program, item.HasSheet, Text(item.Earlier), item.Cause,
                item.Key, Text(item.Right), Text(item.Value), Text(Math.Round(item.Spread, 5)), item.MustBeFound,
                item.Found, item.First, Text(first), Text(truth), item.FairFirst,
                string.Join(' ', item.Alike.Order(StringComparer.Ordinal)), string.Join(' ', causes)));
        }
    }

    /// <summary>The same of every spoiled part.</summary>
    public static void Write(TextWriter writer, IEnumerable<ScrapVerdict> scraps)
    {
        writer.WriteLine("seed,machine,unit,program,kind,key,error,uncertainty,right,p_first,unexplained,changes");
        foreach (var item in scraps)
        {
            var changes = item.Trace.Changes.Take(5).Select(change => string.Create(CultureInfo.InvariantCulture,
                $"{change.Key}={change.Probability}:{change.Predicted}{(change.Stale ? "stale" : "")}@{change.Change}"));
            writer.WriteLine(string.Join(',',
                Text(item.Seed), item.Machine, item.Unit, item.Program, item.Kind, item.Key, Text(item.Error),
                Text(item.Uncertainty), item.RightFirst, Text(item.Probability),
                Text(item.Trace.UnexplainedProbability), string.Join(' ', changes)));
        }
    }

    private static string Text(IFormattable value) => value.ToString(null, CultureInfo.InvariantCulture);
}
