using System.Text.RegularExpressions;

namespace SetupAudit.Architecture;

/// <summary>A pattern that no line may show, and what to say when one does.</summary>
/// <param name="Pattern">What must not stand on a line.</param>
/// <param name="Where">The files it concerns.</param>
/// <param name="InProse">Whether comments and strings are looked at too.</param>
/// <param name="Says">What is wrong and what to do instead.</param>
public sealed record LineRule(string Pattern, Func<SourceFile, bool> Where, bool InProse, string Says)
{
    private readonly Regex _pattern = new(Pattern, RegexOptions.CultureInvariant);

    public IEnumerable<string> Look(SourceFile file)
    {
        if (!Where(file)) yield break;
        var lines = InProse ? file.Lines : file.Code;
        for (var index = 0; index < lines.Count; index++)
            if (_pattern.IsMatch(lines[index])) yield return $"{file.Path}:{index + 1}: {Says}";
    }
}
