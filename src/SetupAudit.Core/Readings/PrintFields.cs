using System.Buffers;
using System.Text.RegularExpressions;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Shop;
using SetupAudit.Shop.Configuration;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>Reads the groups of one matched line; the first that cannot be read is the line's fault.</summary>
internal ref struct PrintFields(
    PrintLinePattern pattern, Match match, MachineConfig machine, WrittenTime? time, int line)
{
    private const int DigitsMost = 64;

    private static readonly SearchValues<char> NumberLetters = SearchValues.Create("0123456789.,");

    /// <summary>Why the line is no reading; null while all could be read.</summary>
    public Fault? Fault { get; private set; }

    public readonly string? Text(string group) => pattern.Caught(match, group)?.Value.Trim();

    public readonly string? Program() => Text("program") is { } name ? ProgramName.Normalise(name) : null;

    public DateTimeOffset? Time()
    {
        if (time is null || pattern.Caught(match, "time") is not { } caught) return null;
        if (time.TryRead(caught.ValueSpan, out var utc)) return utc;
        Refuse(caught, $"the time {Wording.Quote(caught.ValueSpan)} is not written as {time.Format}");
        return null;
    }

    public decimal? Number(string group)
    {
        if (pattern.Caught(match, group) is not { } caught) return null;
        if (TryNumber(caught.ValueSpan, out var number) && number.FitsMachine) return number.Value;
        Refuse(caught, $"{group} {Wording.Quote(caught.ValueSpan)} is no number");
        return null;
    }

    public int? Whole(string group)
    {
        if (pattern.Caught(match, group) is not { } caught) return null;
        if (TryNumber(caught.ValueSpan, out var number) && number.TryWhole(out var whole) && whole >= 0) return whole;
        Refuse(caught, $"{group} {Wording.Quote(caught.ValueSpan)} is no whole number");
        return null;
    }

    /// <summary>A tool number, with or without its T.</summary>
    public int? Tool()
    {
        if (pattern.Caught(match, "tool") is not { } caught) return null;
        var digits = caught.ValueSpan.Trim();
        if (digits is ['T' or 't', ..]) digits = digits[1..];
        var isWhole = TryNumber(digits, out var number) & number.TryWhole(out var tool);
        if (isWhole && tool is >= 0 and <= OffsetKey.ToolMost) return tool;
        Refuse(caught, $"tool {Wording.Quote(caught.ValueSpan)} is no tool number");
        return null;
    }

    public Register? Register()
    {
        if (pattern.Caught(match, "register") is not { } caught) return null;
        if (machine.TryParseRegister(caught.Value, out var register)) return register;
        Refuse(caught, $"{Wording.Quote(caught.ValueSpan)} is no register, and none of the machine's Names");
        return null;
    }

    public Axis? Axis()
    {
        if (pattern.Caught(match, "axis") is not { } caught) return null;
        var letter = caught.ValueSpan.Trim();
        if (letter.Length == 1 && char.IsAsciiLetter(letter[0]) && Enum.TryParse<Axis>(letter, true, out var axis))
            return axis;
        Refuse(caught, $"{Wording.Quote(caught.ValueSpan)} is no axis");
        return null;
    }

    private void Refuse(Group caught, string reason) => Fault ??= new Fault(line, caught.Index + 1, reason);

    // A sign may stand apart, as controls pad numbers behind it; a blank between digits would make two numbers one. A
    // decimal comma is a point; with a point beside it neither reads as a number.
    private static bool TryNumber(ReadOnlySpan<char> text, out NumberText number)
    {
        number = default;
        text = text.Trim();
        var digits = (text is ['-' or '+', ..] ? text[1..] : text).TrimStart();
        if (digits.Length is 0 or > DigitsMost || digits.ContainsAnyExcept(NumberLetters)) return false;
        Span<byte> bytes = stackalloc byte[DigitsMost + 1];
        bytes[0] = (byte)(text[0] == '-' ? '-' : '+');
        for (var at = 0; at < digits.Length; at++) bytes[at + 1] = (byte)(digits[at] == ',' ? '.' : digits[at]);
        return NumberText.TryParse(bytes[..(digits.Length + 1)], out number);
    }
}
