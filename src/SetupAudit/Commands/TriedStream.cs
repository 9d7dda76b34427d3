using System.Globalization;
using System.Text.Json;
using SetupAudit.Readings;
using SetupAudit.Shapes;
using SetupAudit.Units;

namespace SetupAudit.Commands;

/// <summary>What a document of an agent says of one moment, as the lines of <c>try</c>.</summary>
internal static class TriedStream
{
    public static IEnumerable<TriedLine> Of(StreamMoment moment, Unit machine) =>
        moment.Observed.SelectMany(one => one.Means == StreamMeaning.Offsets
            ? one.Offsets.Select(reading => At(moment, TriedLine.Of(reading, machine)))
            : [At(moment, Of(one))]);

    private static TriedLine Of(StreamObservation one)
    {
        var means = JsonNamingPolicy.KebabCaseLower.ConvertName(one.Means.ToString());
        (string Name, object? Value)[] fields =
            [("text", one.Text), ("code", one.Code), ("kind", one.Kind), ("count", one.Count)];
        var said = fields.Where(field => field.Value is not null)
            .Select(field => string.Create(CultureInfo.InvariantCulture, $"{field.Name} {field.Value}"));
        var says = one.Means == StreamMeaning.Unavailable ? "unknown from here on" : string.Join(", ", said);
        return new TriedLine(one.Line, one.Column, means, says,
            [("line", one.Line), ("column", one.Column), ("means", means), .. fields]);
    }

    private static TriedLine At(StreamMoment moment, TriedLine line) => line with
    {
        Says = $"{line.Says}, at {Word.Of(moment.AtUtc)}",
        Fields = [.. line.Fields, ("at", Word.Of(moment.AtUtc))],
    };
}
