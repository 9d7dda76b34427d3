using SetupAudit.Evidence;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>The first record of a table: which column holds what, and which character separates them.</summary>
internal sealed class TableHeader
{
    private const int ColumnsMost = 1000;

    private TableHeader(IReadOnlyList<TableColumn?> columns, IReadOnlyList<Fault> faults)
    {
        Columns = columns;
        Faults = faults;
        Register = IndexOf(TableColumn.Register);
        Tool = IndexOf(TableColumn.Tool);
        Axis = IndexOf(TableColumn.AxisName);
        Of = IndexOf(TableColumn.Of);
        Value = IndexOf(TableColumn.Value);
    }

    /// <summary>What each column holds; null where it is none of ours.</summary>
    public IReadOnlyList<TableColumn?> Columns { get; }

    public IReadOnlyList<Fault> Faults { get; }

    /// <summary>Index of the column; -1 where there is none, as of the four below.</summary>
    public int Register { get; }

    public int Tool { get; }

    public int Axis { get; }

    public int Of { get; }

    public int Value { get; }

    public bool NamesRows => Register >= 0 || Tool >= 0;

    public bool HasValues => Value >= 0 || Columns.Any(column => column is { HoldsValues: true });

    public int Known => Columns.Count(column => column is not null);

    /// <summary>
    /// Reads the header with each separator and takes the one under which most headings are known; the scanner is then
    /// behind the header.
    /// </summary>
    public static TableHeader Read(ReadOnlySpan<byte> text, WatchConfig watch, out TableScanner rows)
    {
        rows = new TableScanner(text, (byte)';');
        var best = Read(ref rows, watch);
        foreach (var separator in "\t,"u8)
        {
            var others = new TableScanner(text, separator);
            var header = Read(ref others, watch);
            if ((header.Known, header.Columns.Count).CompareTo((best.Known, best.Columns.Count)) <= 0) continue;
            best = header;
            rows = others;
        }
        return best;
    }

    private static TableHeader Read(ref TableScanner scanner, WatchConfig watch)
    {
        var headings = new List<string>();
        var faults = new List<Fault>();
        var line = 1;
        while (scanner.Read())
        {
            line = scanner.Field.Line;
            headings.Add(scanner.Text(scanner.Field).Trim());
            if (headings.Count > ColumnsMost)
            {
                faults.Add(new Fault(line, scanner.Field.Column, $"the header has more than {ColumnsMost} columns"));
                break;
            }
            if (!scanner.EndsRecord) continue;
            // Blank lines before the header are no header, nor is the line by which spreadsheets name the separator.
            var isHint = headings[0].StartsWith("sep=", StringComparison.OrdinalIgnoreCase);
            if (!isHint && headings.Any(heading => heading.Length > 0)) break;
            headings.Clear();
        }
        if (scanner.Broken is { } broken) faults.Add(new Fault(scanner.Field.Line, scanner.Field.Column, broken));
        var columns = headings.ConvertAll(heading => ColumnOf(heading, watch));
        faults.AddRange(Twice(columns, line));
        faults.AddRange(Missing(headings, watch, line));
        return new TableHeader(columns, faults);
    }

    private static TableColumn? ColumnOf(string heading, WatchConfig watch)
    {
        foreach (var column in TableColumn.All)
        {
            var isHeaded = watch.Columns.TryGetValue(column.Name, out var configured)
                ? heading.Equals(configured.Trim(), StringComparison.OrdinalIgnoreCase)
                : column.IsHeaded(heading);
            if (isHeaded) return column;
        }
        return null;
    }

    private static IEnumerable<Fault> Twice(List<TableColumn?> columns, int line) =>
        columns.OfType<TableColumn>().GroupBy(column => column.Name, StringComparer.Ordinal)
            .Where(group => group.Count() > 1)
            .Select(group => new Fault(line, 1, $"two columns are headed as {group.Key}, and only one can hold"));

    private static IEnumerable<Fault> Missing(List<string> headings, WatchConfig watch, int line) =>
        watch.Columns.OrderBy(pair => pair.Key, StringComparer.Ordinal)
            .Where(pair => !headings.Contains(pair.Value.Trim(), StringComparer.OrdinalIgnoreCase))
            .Select(pair => new Fault(line, 1,
                $"no column is headed \"{pair.Value}\", which the configuration names for {pair.Key}"));

    private int IndexOf(string name)
    {
        for (var index = 0; index < Columns.Count; index++)
            if (Columns[index]?.Name == name) return index;
        return -1;
    }
}
