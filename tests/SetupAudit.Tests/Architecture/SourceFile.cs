namespace SetupAudit.Architecture;

/// <summary>A tracked text file as the tidy rules see it.</summary>
public sealed class SourceFile
{
    public SourceFile(string path, string text)
    {
        Path = path;
        Lines = text.ReplaceLineEndings("\n").TrimEnd('\n').Split('\n');
        Code = IsCSharp ? CodeOnly.Of(string.Join('\n', Lines)).Split('\n') : Lines;
    }

    /// <summary>From the repository's top, with forward slashes.</summary>
    public string Path { get; }

    public IReadOnlyList<string> Lines { get; }

    /// <summary>The lines without what strings and comments say.</summary>
    public IReadOnlyList<string> Code { get; }

    public bool IsCSharp => Path.EndsWith(".cs", StringComparison.Ordinal);

    public bool IsSource => Path.StartsWith("src/", StringComparison.Ordinal);

    public bool IsUnitTest => Path.StartsWith("tests/SetupAudit.Tests/", StringComparison.Ordinal);

    /// <summary>The file's name up to its first dot: the type it should hold.</summary>
    public string Stem => System.IO.Path.GetFileName(Path).Split('.')[0];
}
