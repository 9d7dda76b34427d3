using System.Globalization;
using SetupAudit.Accuracy;
using SetupAudit.Accuracy.Scores;
using SetupAudit.Accuracy.Trials;

CultureInfo.DefaultThreadCurrentCulture = CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
if (Options.Parse(args) is not { } options)
{
    Console.Error.WriteLine(Options.Usage);
    return 2;
}
var results = options.Seeds.AsParallel().AsOrdered().Select(seed => new Judging(seed, options.Choice).Run()).ToList();
new ScoreSheet(Console.Out).Write(results);
foreach (var alarm in results.SelectMany(result => result.Alarms.Concat(result.Plates?.Alarms ?? [])))
    Console.Error.WriteLine(alarm);
if (options.CaseFile is { } file)
{
    using var writer = new StreamWriter(file);
    if (options.Choice.Only == Trial.Traces) CaseList.Write(writer, results.SelectMany(result => result.Scraps));
    else if (options.Choice.Only == Trial.Plates) CaseList.Write(writer, results.SelectMany(result => result.Plates?.Verdicts ?? []));
    else CaseList.Write(writer, results.SelectMany(result => result.Verdicts));
}
return 0;
