using System.Runtime.CompilerServices;

namespace SetupAudit.Support;

/// <summary>
/// Compares a text with one that a person has accepted, kept beside the test. ACCEPT=1 writes it, never on CI; look
/// at the difference before committing it.
/// </summary>
public static class Snapshot
{
    /// <summary>Expects the text in the file `TestFile.TestName.ending` beside the test.</summary>
    public static void Holds(
        string actual, string ending = "txt", [CallerFilePath] string file = "", [CallerMemberName] string test = "") =>
        FileHolds(Path.ChangeExtension(file, null) + $".{test}.{ending}", actual);

    /// <summary>Expects the text in that file, for pairs of input and expectation.</summary>
    public static void FileHolds(string path, string actual)
    {
        actual = actual.ReplaceLineEndings("\n").TrimEnd('\n') + "\n";
        if (Accepting) File.WriteAllText(path, actual);
        if (!File.Exists(path)) Assert.Fail($"{path} is not there; run once with ACCEPT=1. The text was:\n{actual}");
        Assert.Equal(File.ReadAllText(path).ReplaceLineEndings("\n"), actual);
    }

    private static bool Accepting => IsAccepting(
        Environment.GetEnvironmentVariable("ACCEPT"), Environment.GetEnvironmentVariable("CI"));

    /// <summary>ACCEPT=1 accepts, unless CI says anything but "false" or nothing.</summary>
    public static bool IsAccepting(string? accept, string? ci) => accept == "1" && (ci is null or "" or "false");
}
