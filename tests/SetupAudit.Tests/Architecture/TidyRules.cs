using System.Text.RegularExpressions;

namespace SetupAudit.Architecture;

/// <summary>What house style asks of a file and a compiler does not see.</summary>
public static partial class TidyRules
{
    public const int LinesMost = 400;
    public const int LinesAim = 250;
    public const int ColumnsMost = 120;

    private static readonly string[] TopLevel =
        ["README.md", "DEVELOPERS.md", "LICENSE", "SetupAudit.sln", "src", "tests", "fixtures", "deploy", "docs"];

    // Written in pieces, or this file would break its own rules.
    private static readonly LineRule[] LineRules =
    [
        new("TO" + @"DO(?!.*#\d)", file => true, true, "a to-do names its issue, as in #12"),
        new("/wo" + "rk/", file => true, true, "a path of one machine does not belong in what is tracked"),
        new("(?i)trans" + "cript", file => true, true, "name the record or the print-out; this word is not used here"),
        new(@"^\s*#\s*(end)?region", IsCSharp, false, "no regions: a file that wants them is two files"),
        new(@"^\s*#pragma warning disable(?!.*//.*\w)", IsCSharp, true, "a pragma gives its reason on the same line"),
        new(@"\basync void\b", IsCSharp, false, "async void loses its exceptions: return a Task"),
        new(@"\bThread\.Sleep\(|\bTask\.Delay\((?!.*TimeProvider|.*[cC]lock)", file => file.IsUnitTest, false,
            "no sleeps in tests: move a fake clock, or wait for the thing itself"),
        new(@"\bdefault!", InSource, false, "no default!: make it required, or null with a reason"),
        new(@"[\w\)\]>]!(?=[\.\[\)\],;]|$)", InSource, false, "no null-forgiving !: handle the null or make it impossible"),
        new(@"\bTask\.Run\(", InSource, false, "no Task.Run: async where bytes move, a named thread where one may block"),
        new(@"\.GetAwaiter\(\)\.GetResult\(\)", InSource, false, "no blocking on a task: await it"),
        new(@"\bcatch\s*(\{|$)", InSource, false, "a catch names what it catches"),
        new(@"\bDateTime(Offset)?\.(Utc)?(Now|Today)\b", InSource, false, "the clock comes from a TimeProvider"),
        new(@"\bTask\.Delay\((?!.*(TimeProvider|[cC]lock))", InSource, false, "delays go through a TimeProvider"),
        new(@"\bLog\.(Verbose|Debug|Information|Warning|Error|Fatal)\((\w+, )?\$", InSource, true,
            "a log template is constant: pass values as arguments"),
    ];

    /// <summary>Everything that is wrong with a file, each with its place and what to do.</summary>
    public static IEnumerable<string> Look(SourceFile file) =>
        LineRules.SelectMany(rule => rule.Look(file))
            .Concat(LookAtPlace(file))
            .Concat(IsCSharp(file) ? LookAtSize(file).Concat(LookAtTypes(file)) : []);

    private static IEnumerable<string> LookAtPlace(SourceFile file)
    {
        var top = file.Path.Split('/')[0];
        if (!top.StartsWith('.') && !TopLevel.Contains(top))
            yield return $"{file.Path}: the top level holds only {string.Join(", ", TopLevel)}";
        if (!IsCSharp(file) || !file.IsSource && !file.IsUnitTest) yield break;

        var folders = file.Path.Split('/')[2..^1];
        if (file.IsUnitTest && folders.Length > 0 && !IsRoomOfTests(folders[0]))
            yield return $"{file.Path}: tests/SetupAudit.Tests mirrors the rooms of src, and {folders[0]} is none";
        var expected = string.Join('.', folders.Prepend(RoomTable.Root));
        foreach (var line in file.Code)
            if (NamespaceLine.Match(line) is { Success: true } match && match.Groups[1].Value != expected)
                yield return $"{file.Path}: its namespace is {match.Groups[1].Value}; after its folder it would be {expected}";
    }

    private static IEnumerable<string> LookAtSize(SourceFile file)
    {
        if (file.Lines.Count > LinesMost)
            yield return $"{file.Path}: {file.Lines.Count} lines; at most {LinesMost}, aim for {LinesAim}";
        if (!file.IsSource) yield break;
        for (var index = 0; index < file.Lines.Count; index++)
            if (file.Lines[index].Length > ColumnsMost)
                yield return $"{file.Path}:{index + 1}: {file.Lines[index].Length} columns; at most {ColumnsMost}";
    }

    private static IEnumerable<string> LookAtTypes(SourceFile file)
    {
        var types = file.Code.Select(line => TypeLine.Match(line)).Where(match => match.Success).ToList();
        foreach (var name in types.Select(match => match.Groups["name"].Value))
            if (BannedEnding.Match(name) is { Success: true } ending)
                yield return $"{file.Path}: {name} ends in {ending.Value}; name it for what it does in the trade";

        var outer = types.Where(match => match.Groups["indent"].Length == 0 && match.Groups["public"].Success)
            .Select(match => match.Groups["name"].Value).Distinct().ToList();
        if (outer.Count > 1) yield return $"{file.Path}: {outer.Count} public types ({string.Join(", ", outer)}); one a file";
        if (outer.Count == 1 && outer[0] != file.Stem)
            yield return $"{file.Path}: holds {outer[0]} and is not named after it";
    }

    private static bool IsRoomOfTests(string folder) =>
        folder is "Support" or "Architecture" || RoomTable.Rooms.Any(room => room.Name == folder);

    private static bool IsCSharp(SourceFile file) => file.IsCSharp;

    private static bool InSource(SourceFile file) => file.IsSource && file.IsCSharp;

    [GeneratedRegex(@"^namespace ([\w\.]+);")]
    private static partial Regex NamespaceLine { get; }

    [GeneratedRegex(@"^(?<indent>(?>\s*))"
        + @"(?:(?:(?<public>public)|internal|private|protected|sealed|static|abstract|partial|readonly|ref|unsafe|file|new)\s+)*"
        + @"(?:class|struct|interface|enum|record(?:\s+class|\s+struct)?)\s+(?<name>[A-Z]\w*)")]
    private static partial Regex TypeLine { get; }

    [GeneratedRegex("(Manager|Helpers?|Utils?|Utility|Utilities|Service|Dto|Base|Impl)$")]
    private static partial Regex BannedEnding { get; }
}
