using System.Text.RegularExpressions;

namespace SetupAudit.Support;

/// <summary>A command shown in a document, and what the document shows that it writes.</summary>
/// <param name="Line">Line in the document, from 1.</param>
/// <param name="Arguments">What follows the program's name.</param>
/// <param name="ExitCode">0, unless the command ends in `# exit status N`.</param>
/// <param name="Expected">The lines shown; `...` stands for any text, alone on a line for any lines.</param>
public sealed partial record ConsoleExample(
    int Line, IReadOnlyList<string> Arguments, int ExitCode, IReadOnlyList<string> Expected)
{
    /// <summary>
    /// The commands of a document's fenced `console` blocks that begin with `$ setupaudit` or
    /// `$ dotnet run --project src/SetupAudit --`; others, such as `$ git clone`, are for the reader.
    /// </summary>
    public static IReadOnlyList<ConsoleExample> In(string markdown)
    {
        var found = new List<ConsoleExample>();
        var lines = markdown.ReplaceLineEndings("\n").Split('\n');
        for (var index = 0; index < lines.Length; index++)
        {
            if (!lines[index].StartsWith("```console", StringComparison.Ordinal)) continue;
            var end = Array.FindIndex(lines, index + 1, line => line.StartsWith("```", StringComparison.Ordinal));
            if (end < 0) throw new FormatException($"line {index + 1}: the block is never closed");
            for (index++; index < end;)
                index = TakeCommand(lines, index, end, found);
        }
        return found;
    }

    /// <summary>The first line shown that the output does not hold, in this order; null where it holds them all.</summary>
    public string? FirstMissing(string output)
    {
        var written = output.ReplaceLineEndings("\n").Split('\n');
        var at = 0;
        foreach (var line in Expected.Where(line => line is not ("" or "...")))
        {
            var pattern = "^" + Regex.Escape(line).Replace(@"\.\.\.", ".*", StringComparison.Ordinal) + @"\s*$";
            while (at < written.Length && !Regex.IsMatch(written[at], pattern)) at++;
            if (at == written.Length) return line;
            at++;
        }
        return null;
    }

    /// <summary>Takes the command that begins on a line, and what it shows; returns the line of the next.</summary>
    private static int TakeCommand(string[] lines, int index, int end, List<ConsoleExample> found)
    {
        var start = index;
        if (!lines[index].StartsWith("$ ", StringComparison.Ordinal)) return index + 1;
        var command = lines[index++][2..];
        while (command.EndsWith('\\') && index < end) command = command[..^1] + lines[index++].TrimStart();
        var shown = index;
        while (index < end && !lines[index].StartsWith("$ ", StringComparison.Ordinal)) index++;

        var exit = ExitComment.Match(command);
        if (exit.Success) command = command[..exit.Index];
        if (OurProgram.Match(command) is { Success: true } ours)
            found.Add(new ConsoleExample(
                start + 1, Words(command[ours.Length..]), exit.Success ? exit.Groups[1].Value[0] - '0' : 0,
                [.. lines[shown..index].Select(line => line.TrimEnd())]));
        return index;
    }

    private static IReadOnlyList<string> Words(string text) =>
        [.. Word.Matches(text).Select(match => match.Value.Replace("\"", "", StringComparison.Ordinal).Replace("'", "", StringComparison.Ordinal))];

    [GeneratedRegex(@"^(setupaudit|dotnet run --project src/SetupAudit --)(\s+|$)")]
    private static partial Regex OurProgram { get; }

    [GeneratedRegex(@"\s*# exit status ([012])$")]
    private static partial Regex ExitComment { get; }

    [GeneratedRegex("""("[^"]*"|'[^']*'|[^\s"'])+""")]
    private static partial Regex Word { get; }
}
