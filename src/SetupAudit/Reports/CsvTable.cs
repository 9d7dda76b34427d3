using System.Globalization;

namespace SetupAudit.Reports;

/// <summary>
/// Writes RFC 4180: CRLF, a header, quotes where a cell has a comma, quote or line break. A cell that a spreadsheet
/// would
/// take for a formula (it begins with = + - @, a tab or a return) and is no number gets an apostrophe before it.
/// </summary>
public sealed class CsvTable
{
    private const string EndOfLine = "\r\n";
    private readonly TextWriter _writer;
    private readonly int _columns;

    public CsvTable(TextWriter writer, IReadOnlyList<string> header)
    {
        _writer = writer;
        _columns = header.Count;
        Row(header);
    }

    /// <summary>Writes one row; null is an empty cell.</summary>
    public void Row(IReadOnlyList<string?> cells)
    {
        if (cells.Count != _columns)
            throw new ArgumentException($"a row of {cells.Count} cells in a table of {_columns} columns",
                nameof(cells));
        for (var index = 0; index < cells.Count; index++)
        {
            if (index > 0) _writer.Write(',');
            _writer.Write(Cell(cells[index] ?? ""));
        }
        _writer.Write(EndOfLine);
    }

    internal static string Cell(string text)
    {
        var guarded = IsFormula(text) ? "'" + text : text;
        return guarded.AsSpan().ContainsAny(",\"\r\n") || guarded.StartsWith(' ') || guarded.EndsWith(' ')
            ? "\"" + guarded.Replace("\"", "\"\"", StringComparison.Ordinal) + "\""
            : guarded;
    }

    private static bool IsFormula(string text) =>
        text.Length > 0 && text[0] is '=' or '+' or '-' or '@' or '\t' or '\r' && !IsNumber(text);

    private static bool IsNumber(string text) => decimal.TryParse(
        text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out _);
}
