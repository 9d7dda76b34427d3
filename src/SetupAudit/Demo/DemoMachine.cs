using System.Globalization;
using System.Text;
using SetupAudit.Datums;

namespace SetupAudit.Demo;

/// <summary>A made-up machine that leaves dumps and print-outs as a day goes by. Times are the shop's; March is still
/// winter time.</summary>
internal sealed class DemoMachine(
    string name, Func<SortedDictionary<OffsetKey, decimal>, DateTime, string> dumpText, string dumpEnding)
{
    private readonly SortedDictionary<OffsetKey, decimal> _offsets = [];
    private readonly List<DemoFile> _files = [];
    private readonly SortedDictionary<DateTime, StringBuilder> _prints = [];
    private DateTime _now;

    /// <summary>Everything the machine left on its share, print-outs a file a day.</summary>
    public IEnumerable<DemoFile> Files => _files.Concat(_prints.Select(day => new DemoFile(
        $"shares/{name}/prints/{day.Key.ToString("yyyyMMdd", CultureInfo.InvariantCulture)}.log", Last(day.Key),
            day.Value.ToString())));

    /// <summary>Moves the clock: "3-9 07:10" is 9 March.</summary>
    public DemoMachine At(string time)
    {
        _now = DateTime.ParseExact($"2026-{time}", "yyyy-M-d HH:mm", CultureInfo.InvariantCulture);
        return this;
    }

    public DemoMachine Minutes(int minutes)
    {
        _now = _now.AddMinutes(minutes);
        return this;
    }

    /// <summary>Puts values into the control without a word: "G54.X=-410.2 T3.length=120.5".</summary>
    public DemoMachine Enter(string values)
    {
        foreach (var (key, value) in Parse(values)) _offsets[key] = value;
        return this;
    }

    /// <summary>A probing routine sets axes of a register and prints what it set; the stylus takes a minute.</summary>
    public DemoMachine Touch(string feature, string register, string values)
    {
        Enter(string.Join(' ', values.Split(' ').Select(value => $"{register}.{value}")));
        return Print($"SET {register} {values} BY {feature}").Minutes(1);
    }

    /// <summary>The tool setter measures a tool's length and prints it.</summary>
    public DemoMachine MeasureTool(int tool, decimal length)
    {
        _offsets[OffsetKey.OfTool(tool, ToolPart.Length)] = length;
        return Print(string.Create(CultureInfo.InvariantCulture, $"TOOL T{tool} LENGTH {length}")).Minutes(2);
    }

    /// <summary>One part: the cycle runs for so many minutes.</summary>
    public DemoMachine Cycle(string program, int minutes, string serial) =>
        Print($"CYCLE START {program} SERIAL {serial}").Minutes(minutes).Print($"CYCLE END {program}").Minutes(3);

    public DemoMachine Print(string line)
    {
        if (!_prints.TryGetValue(_now.Date, out var day)) _prints[_now.Date] = day = new StringBuilder();
        day.Append(_now.ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture)).Append(' ').Append(line).Append(
            "\r\n");
        return this;
    }

    /// <summary>The control writes its offsets out.</summary>
    public DemoMachine Dump() =>
        File($"offsets/{_now.ToString("yyyyMMdd-HHmm", CultureInfo.InvariantCulture)}.{dumpEnding}",
            dumpText(_offsets, _now));

    /// <summary>A dump that the control did not finish.</summary>
    public DemoMachine BrokenDump()
    {
        var text = dumpText(_offsets, _now);
        return File($"offsets/{_now.ToString("yyyyMMdd-HHmm", CultureInfo.InvariantCulture)}.{dumpEnding}",
            text[..(text.Length * 2 / 5)]);
    }

    public DemoMachine File(string below, string text)
    {
        _files.Add(new DemoFile($"shares/{name}/{below}", Utc(_now), text));
        return this;
    }

    private DateTimeOffset Last(DateTime day)
    {
        var lines = _prints[day].ToString().Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        return Utc(DateTime.ParseExact(lines[^1][..19], "yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture));
    }

    private static DateTimeOffset Utc(DateTime time) => new(time, TimeSpan.Zero);

    private static IEnumerable<(OffsetKey Key, decimal Value)> Parse(string values)
    {
        foreach (var item in values.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var equals = item.IndexOf('=', StringComparison.Ordinal);
            var dot = item.LastIndexOf('.', equals);
            var value = decimal.Parse(item.AsSpan(equals + 1), CultureInfo.InvariantCulture);
            yield return (Key(item[..dot], item[(dot + 1)..equals]), value);
        }
    }

    private static OffsetKey Key(string holder, string part)
    {
        if (Register.TryParse(holder, out var register)) return OffsetKey.Datum(register, Enum.Parse<Axis>(part));
        return ToolPartName.TryParse(part, out var named)
            ? OffsetKey.OfTool(int.Parse(holder.AsSpan(1), CultureInfo.InvariantCulture), named)
            : throw new ArgumentException($"no offset: {holder}.{part}", nameof(part));
    }
}
