using System.Text;
using System.Text.RegularExpressions;
using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>One pattern of a print-out, ready to be tried on lines.</summary>
internal sealed class PrintLinePattern
{
    private readonly byte[] _literal;
    private readonly Dictionary<string, int> _groups;

    /// <summary>The pattern has been checked: it compiles, and its meaning and part of a tool are known.</summary>
    public PrintLinePattern(PrintPattern pattern)
    {
        Regex = LinearPattern.Create(pattern.Match);
        Means = MeaningOf(pattern.Means);
        Kind = pattern.Kind;
        By = pattern.By;
        Of = Means != PrintMeaning.ToolSet ? null
            : ToolPartName.TryParse(pattern.Of, out var part) ? part
            : ToolPart.Length;
        _literal = Encoding.ASCII.GetBytes(RequiredLiteral.Of(pattern.Match));
        _groups = Regex.GetGroupNames().Where(PrintPattern.Groups.Contains)
            .ToDictionary(name => name, Regex.GroupNumberFromName, StringComparer.Ordinal);
    }

    public Regex Regex { get; }

    public PrintMeaning Means { get; }

    public string? Kind { get; }

    public string? By { get; }

    public ToolPart? Of { get; }

    /// <summary>Whether the line may match: it holds what every match must hold.</summary>
    public bool MayMatch(ReadOnlySpan<byte> line) => _literal.Length == 0 || line.IndexOf(_literal) >= 0;

    /// <summary>What a group of the match caught; null where there is no such group or it caught nothing.</summary>
    public Group? Caught(Match match, string name) =>
        _groups.TryGetValue(name, out var number) && match.Groups[number] is { Success: true } group
        && !group.ValueSpan.IsWhiteSpace()
            ? group
            : null;

    /// <summary>The names of the configuration stand in the order of the meanings.</summary>
    public static PrintMeaning MeaningOf(string name)
    {
        for (var index = 0; index < PrintPattern.Meanings.Count; index++)
            if (PrintPattern.Meanings[index] == name) return (PrintMeaning)index;
        throw new ArgumentException($"\"{name}\" is no meaning of a line", nameof(name));
    }
}
