using System.Globalization;
using System.Text;

namespace SetupAudit.Support;

/// <summary>
/// An agent of our made-up shop: it numbers what it observes and answers as an agent does, with how all stands or with
/// what happened from a number on.
/// </summary>
public sealed class MadeUpAgent(ulong instance = 1772400000)
{
    private readonly List<Observed> _all = [];

    public ulong Next { get; private set; } = 1;

    /// <summary>The oldest that it still has; what lies before is gone.</summary>
    public ulong First { get; set; } = 1;

    public MadeUpAgent Executes(string at, string word) => Add(at, "Execution", "exec", word);

    public MadeUpAgent Program(string at, string name) => Add(at, "Program", "prog", name);

    public MadeUpAgent Counts(string at, string count) => Add(at, "PartCount", "count", count);

    public MadeUpAgent Mode(string at, string word) => Add(at, "ControllerMode", "mode", word);

    public MadeUpAgent Moves(string at, string position) => Add(at, "Position", "xpos", position);

    public MadeUpAgent NoOffsets(string at) => Add(at, "WorkOffsetsTable", "wo", "UNAVAILABLE");

    /// <summary>A register as a whole, such as "G54", "X", "-400.000", "Y", "-210.000".</summary>
    public MadeUpAgent Sets(string at, string register, params IReadOnlyList<string> cells) =>
        Add(at, "WorkOffsetsTable", "wo", Entry(register, cells), register);

    public MadeUpAgent Tool(string at, string tool, string length) =>
        Add(at, "ToolOffsetsTable", "to", Entry(tool, ["LENGTH", length]), tool);

    /// <summary>What happened from a number on, as written at a moment.</summary>
    public string Since(ulong from, string written, int count = int.MaxValue)
    {
        var told = _all.Where(one => one.Sequence >= from && one.Sequence >= First).Take(count).ToList();
        return Document(written, told.Count == 0 ? Next : told[^1].Sequence + 1, told.Select(one => one.Element()));
    }

    /// <summary>How all stands at a moment.</summary>
    public string Current(string written)
    {
        var elements = _all.GroupBy(one => one.Item).Select(item =>
        {
            var last = item.Last();
            var entries = item.Reverse().TakeWhile(one => one.Value != "UNAVAILABLE").Where(one => one.Entry is not null)
                .DistinctBy(one => one.Entry).Reverse();
            return last.Entry is null ? last.Element() : last.Element(string.Concat(entries.Select(one => one.Value)));
        });
        return Document(written, Next, elements);
    }

    private MadeUpAgent Add(string at, string element, string item, string value, string? entry = null)
    {
        _all.Add(new Observed(Next++, at, element, item, value, entry));
        return this;
    }

    private static string Entry(string key, IReadOnlyList<string> cells)
    {
        var text = new StringBuilder($"<Entry key=\"{key}\">");
        for (var at = 0; at < cells.Count; at += 2) text.Append($"<Cell key=\"{cells[at]}\">{cells[at + 1]}</Cell>");
        return text.Append("</Entry>").ToString();
    }

    private string Document(string written, ulong next, IEnumerable<string> elements) => string.Create(
        CultureInfo.InvariantCulture,
        $"""
        <?xml version="1.0" encoding="UTF-8"?>
        <MTConnectStreams xmlns="urn:mtconnect.org:MTConnectStreams:2.2">
          <Header creationTime="{written}" sender="agent" instanceId="{instance}" version="2.2.0.17" bufferSize="131072" nextSequence="{next}" firstSequence="{First}" lastSequence="{Next - 1}"/>
          <Streams><DeviceStream name="mill-3" uuid="0003"><ComponentStream component="Path" name="path" componentId="p1"><Events>
        {string.Join('\n', elements)}
          </Events></ComponentStream></DeviceStream></Streams>
        </MTConnectStreams>

        """);

    private sealed record Observed(ulong Sequence, string At, string Name, string Item, string Value, string? Entry)
    {
        public string Element(string? value = null) => string.Create(CultureInfo.InvariantCulture,
            $"    <{Name} dataItemId=\"{Item}\" sequence=\"{Sequence}\" timestamp=\"{At}\">{value ?? Value}</{Name}>");
    }
}
