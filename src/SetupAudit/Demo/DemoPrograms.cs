using System.Globalization;
using System.Text;

namespace SetupAudit.Demo;

/// <summary>The made-up programs: short, but with all that an audit reads in one.</summary>
internal static class DemoPrograms
{
    /// <summary>Mills a pocket with one tool and drills with another, all in one register.</summary>
    public static string Mill(
        string program, string title, string units, string register, int cutter, int drill, decimal size)
    {
        var text = new StringBuilder();
        Line(text, "%");
        Line(text, $"{program} ({title} - MADE UP)");
        Line(text, $"{units} G17 G40 G49 G80 G90");
        Line(text, $"T{cutter} M6");
        Line(text, $"G0 G90 {register} X{size} Y{size} S6000 M3");
        Line(text, $"G43 H{cutter} Z{size / 2}");
        Line(text, $"G1 Z-{size / 10} F300.");
        Line(text, $"G1 X{size * 3} F800.");
        Line(text, $"G1 Y{size * 2}");
        Line(text, $"G1 X{size} Y{size}");
        Line(text, $"G0 Z{size / 2}");
        Line(text, $"T{drill} M6");
        Line(text, $"G0 G90 {register} X{size * 2} Y{size * 1.5m} S3000 M3");
        Line(text, $"G43 H{drill} Z{size / 2}");
        Line(text, $"G81 Z-{size / 2} R{size / 10} F120.");
        Line(text, "G80");
        Line(text, "G91 G28 Z0.");
        Line(text, "M30");
        Line(text, "%");
        return text.ToString();
    }

    /// <summary>Faces and turns a diameter; X comes from the tools' geometry.</summary>
    public static string Turn(string program, string title)
    {
        var text = new StringBuilder();
        foreach (var line in new[]
        {
            "%", $"{program} ({title} - MADE UP)", "G21 G40 G90", "T0101", "G54 G96 S180 M3", "G0 X62. Z0.1",
                "G1 X-1. F0.2",
            "G0 X40. Z2.", "G1 Z-32. F0.15", "G0 X80. Z50.", "M30", "%",
        })
            text.Append(line).Append("\r\n");
        return text.ToString();
    }

    private static void Line(StringBuilder text, FormattableString line) =>
        text.Append(line.ToString(CultureInfo.InvariantCulture)).Append("\r\n");

    private static void Line(StringBuilder text, string line) => text.Append(line).Append("\r\n");
}
