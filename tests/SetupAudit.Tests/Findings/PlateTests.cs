using System.Globalization;
using SetupAudit.Support;

namespace SetupAudit.Findings;

/// <summary>Public measurements of 20 plates (NIST SMS Test Bed): "Diameter 10" jumps at part 10 for no known reason, and
/// its limits alarm only at part 16.</summary>
public sealed class PlateTests
{
    [Fact]
    public void The_jump_of_diameter_10_is_found_at_part_10_before_its_limits_are_passed()
    {
        var (values, firstOutside) = Read();

        Assert.Equal(16, firstOutside);
        Assert.Equal(10, FirstJump(values));
    }

    // Each part against those before it, as an offset is judged.
    private static int FirstJump(List<decimal> values)
    {
        var prior = ScalePrior.From([], 0.02, 0.0003, 300);
        for (var part = Plausibility.LeastValues; part < values.Count; part++)
            if (Usual.From(values.GetRange(0, part), prior, 0.001, 0).Tail(values[part]) < Plausibility.Improbable)
                return part + 1;
        return 0;
    }

    private static (List<decimal> Values, int FirstOutside) Read()
    {
        var rows = File.ReadLines(Reference.At("stats/nist_sms_mtc/characteristics.csv")).Select(line => line.Split(','))
            .Where(row => row[0].EndsWith("Plate_Results.qif", StringComparison.Ordinal) && row[4] == "Diameter 10")
            .OrderBy(row => int.Parse(row[1], CultureInfo.InvariantCulture)).ToList();
        return ([.. rows.Select(row => decimal.Parse(row[8], CultureInfo.InvariantCulture))],
            rows.FindIndex(row => row[9] != "PASS") + 1);
    }
}
