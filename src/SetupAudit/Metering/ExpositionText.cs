using System.Globalization;
using System.Text;

namespace SetupAudit.Metering;

/// <summary>
/// The words of the text exposition format 0.0.4: label values come from the configuration and from shares, so what
/// would end a value or a line is escaped as the format says.
/// </summary>
internal static class ExpositionText
{
    public static string Word(MetricKind kind) => kind switch
    {
        MetricKind.Counter => "counter",
        MetricKind.Gauge => "gauge",
        _ => "histogram",
    };

    public static string Number(double value) => value switch
    {
        double.PositiveInfinity => "+Inf",
        double.NegativeInfinity => "-Inf",
        _ => value.ToString("R", CultureInfo.InvariantCulture),
    };

    public static string Help(string text) => text.Replace("\\", "\\\\", StringComparison.Ordinal)
        .Replace("\n", "\\n", StringComparison.Ordinal);

    public static string Braced(string labels) => labels.Length == 0 ? "" : "{" + labels + "}";

    /// <summary>name="value",name="value".</summary>
    public static string Labels(ReadOnlySpan<KeyValuePair<string, object?>> tags)
    {
        var text = new StringBuilder();
        foreach (var (name, value) in tags)
        {
            if (text.Length > 0) text.Append(',');
            text.Append(name).Append("=\"").Append(Escaped(value?.ToString() ?? "")).Append('"');
        }
        return text.ToString();
    }

    private static string Escaped(string value) => value.Replace("\\", "\\\\", StringComparison.Ordinal)
        .Replace("\"", "\\\"", StringComparison.Ordinal).Replace("\n", "\\n", StringComparison.Ordinal);
}
