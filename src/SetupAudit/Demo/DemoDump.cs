using System.Globalization;
using System.Text;
using SetupAudit.Datums;

namespace SetupAudit.Demo;

/// <summary>The two forms in which the made-up controls write their offsets out: data-setting blocks, and a
/// table.</summary>
internal static class DemoDump
{
    /// <summary>G10 blocks, as a milling control writes them.</summary>
    public static string Blocks(string units, SortedDictionary<OffsetKey, decimal> offsets, DateTime now)
    {
        var text = new StringBuilder("%\r\nO9001 (OFFSETS ").Append(
            now.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture))
            .Append(" - MADE UP)\r\n").Append(units).Append(" G90\r\n");
        foreach (var datum in offsets.Where(pair => pair.Key.IsDatum).GroupBy(pair => pair.Key.Register))
        {
            text.Append(CultureInfo.InvariantCulture, $"G10 L2 P{datum.Key.Number}");
            foreach (var (key, value) in datum) text.Append(CultureInfo.InvariantCulture, $" {key.Axis}{Point(value)}");
            text.Append("\r\n");
        }
        foreach (var (key, value) in offsets.Where(pair => pair.Key.IsTool))
            text.Append(CultureInfo.InvariantCulture, $"G10 L{10 + (int)key.Part} P{key.Tool} R{Point(value)}\r\n");
        return text.Append("M30\r\n%\r\n").ToString();
    }

    /// <summary>A table with semicolons and decimal commas, as a turning centre's host computer writes it.</summary>
    public static string Table(SortedDictionary<OffsetKey, decimal> offsets)
    {
        var text = new StringBuilder("WCS;Axis;Tool;Of;Value\r\n");
        foreach (var (key, value) in offsets)
        {
            var holder = key.IsDatum
                ? $"{key.Register};{key.Axis};;"
                : string.Create(CultureInfo.InvariantCulture, $";;{key.Tool};{ToolPartName.Of(key.Part)}");
            text.Append(holder).Append(';').Append(Point(value).Replace('.', ',')).Append("\r\n");
        }
        return text.ToString();
    }

    private static string Point(decimal value)
    {
        var text = value.ToString(CultureInfo.InvariantCulture);
        return text.Contains('.', StringComparison.Ordinal) ? text : text + ".";
    }
}
