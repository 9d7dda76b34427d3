using Spectre.Console;

namespace SetupAudit.Commands;

/// <summary>
/// A table for people: with a frame on a terminal, plain aligned text where the output goes to a file or a program.
/// </summary>
internal abstract class TextTable
{
    /// <summary>Adds a row; the texts must be fit to be shown.</summary>
    public abstract void Row(IReadOnlyList<string> cells);

    public abstract void End();

    public static TextTable For(Terminal terminal, IReadOnlyList<(string Title, bool IsNumber)> columns) =>
        terminal.OutIsScreen ? new Framed(terminal.Out, columns) : new Aligned(terminal.Out, columns);

    private sealed class Framed : TextTable
    {
        private readonly IAnsiConsole _console;
        private readonly Table _table = new Table().Border(TableBorder.Simple);

        public Framed(TextWriter to, IReadOnlyList<(string Title, bool IsNumber)> columns)
        {
            _console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(to) });
            foreach (var (title, isNumber) in columns)
            {
                var column = new TableColumn(new Text(title, new Style(decoration: Decoration.Bold)));
                _table.AddColumn(isNumber ? column.RightAligned().NoWrap() : column);
            }
        }

        public override void Row(IReadOnlyList<string> cells) => _table.AddRow(cells.Select(cell => new Text(cell)));

        public override void End()
        {
            if (_table.Rows.Count > 0) _console.Write(_table);
        }
    }

    /// <summary>Widths come from the first rows, so that a list of any length streams.</summary>
    private sealed class Aligned(TextWriter to, IReadOnlyList<(string Title, bool IsNumber)> columns) : TextTable
    {
        private const int RowsMeasured = 500;
        private const int WidestPadding = 60;
        private readonly List<IReadOnlyList<string>> _waiting = [];
        private int[]? _widths;

        public override void Row(IReadOnlyList<string> cells)
        {
            if (_widths is not null)
            {
                Write(cells, _widths);
                return;
            }
            _waiting.Add(cells);
            if (_waiting.Count == RowsMeasured) Measure();
        }

        public override void End()
        {
            if (_widths is null && _waiting.Count > 0) Measure();
        }

        private void Measure()
        {
            IReadOnlyList<string> titles = [.. columns.Select(column => column.Title)];
            _widths = [.. titles.Select((title, index) =>
                Math.Min(WidestPadding, _waiting.Select(row => row[index].Length).Append(title.Length).Max()))];
            foreach (var row in _waiting.Prepend(titles)) Write(row, _widths);
            _waiting.Clear();
        }

        private void Write(IReadOnlyList<string> cells, int[] widths)
        {
            var padded = cells.Select((cell, index) =>
                columns[index].IsNumber ? cell.PadLeft(widths[index]) : cell.PadRight(widths[index]));
            to.Write(string.Join("  ", padded).TrimEnd());
            to.Write('\n');
        }
    }
}
