using SetupAudit.Evidence;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>The first record of a table: which column holds what, and which character separates them.</summary>
internal sealed class TableHeader
{
    public const int ColumnsMost = 1000;

    private const int HeaderMostBytes = 65_536;

    private TableHeader(List<string> headings, WatchConfig watch, int line)
    {
        Columns = new TableColumn?[headings.Count];
        for (var index = 0; index < Columns.Length; index++)
        {
            Columns[index] = ColumnOf(headings[index], watch);
            if (Columns[index] is not null) Known++;
        }
        Headings = headings;
        Line = line;
        Register = IndexOf(TableColumn.Register);
        Tool = IndexOf(TableColumn.Tool);
        Axis = IndexOf(TableColumn.AxisName);
        Of = IndexOf(TableColumn.Of);
        Value = IndexOf(TableColumn.Value);
    }

    /// <summary>What each column holds; null where it is none of ours.</summary>
    public TableColumn?[] Columns { get; }

    public IReadOnlyList<string> Headings { get; }

    /// <summary>Line of the header.</summary>
    public int Line { get; }

    /// <summary>How many columns we have a name for.</summary>
    public int Known { get; }

    /// <summary>Index of the column; -1 where there is none, as of the four below.</summary>
    public int Register { get; }

    public int Tool { get; }

    public int Axis { get; }

    public int Of { get; }

    public int Value { get; }

    public bool NamesRows => Register >= 0 || Tool >= 0;

    public bool HasValues => Value >= 0 || Columns.Any(column => column is { HoldsValues: true });

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
            if (!text[..Math.Min(text.Length, HeaderMostBytes)].Contains(separator)) continue;
            var others = new TableScanner(text, separator);
            var header = Read(ref others, watch);
            if ((header.Known, header.Columns.Length).CompareTo((best.Known, best.Columns.Length)) <= 0) continue;
            best = header;
            rows = others;
        }
        return best;
    }

    private static TableHeader Read(ref TableScanner scanner, WatchConfig watch)
    {
        var headings = new List<string>();
        var line = 1;
        while (headings.Count <= ColumnsMost && scanner.Read())
        {
            line = scanner.Field.Line;
            headings.Add(scanner.Text(scanner.Field).Trim());
            if (!scanner.EndsRecord) continue;
            // Blank lines before the header are no header, nor is the line by which spreadsheets name the separator.
            var isHint = headings[0].StartsWith("sep=", StringComparison.OrdinalIgnoreCase);
            if (!isHint && headings.Any(heading => heading.Length > 0)) break;
            headings.Clear();
        }
        return new TableHeader(headings, watch, line);
    }

    /// <summary>What is wrong with the header, and does not keep the columns that are known from being read.</summary>
    public IEnumerable<Fault> Faults(WatchConfig watch)
    {
        foreach (var group in Columns.OfType<TableColumn>().GroupBy(column => column.Name, StringComparer.Ordinal))
            if (group.Count() > 1)
                yield return new Fault(Line, 1, $"two columns are headed as {group.Key}, and only one can hold");
        foreach (var (name, heading) in watch.Columns.OrderBy(pair => pair.Key, StringComparer.Ordinal))
            if (!Headings.Contains(heading.Trim(), StringComparer.OrdinalIgnoreCase))
                yield return new Fault(
                    Line, 1, $"no column is headed \"{heading}\", which the configuration names for {name}");
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

    private int IndexOf(string name)
    {
        for (var index = 0; index < Columns.Length; index++)
            if (Columns[index]?.Name == name) return index;
        return -1;
    }
}
