using System.Diagnostics;
using System.Runtime.CompilerServices;

namespace SetupAudit.Support;

/// <summary>Where the sources lie: the folder that holds SetupAudit.sln, found upwards from this file.</summary>
public static class Repository
{
    public static string Top { get; } = FindTop();

    /// <summary>The full path of a name below the top; the name uses forward slashes.</summary>
    public static string At(string name) => Path.GetFullPath(Path.Combine(Top, name));

    /// <summary>
    /// The files git tracks and those it would (new ones that are not ignored), relative, with forward slashes. Skips
    /// the test where git is not there or the sources are no checkout.
    /// </summary>
    public static IReadOnlyList<string> Files()
    {
        if (!Path.Exists(At(".git"))) Assert.Skip("the sources are no git checkout, so nothing says which files are tracked");
        var start = new ProcessStartInfo(Tool.At("git")) { WorkingDirectory = Top, RedirectStandardOutput = true };
        // The owner of a checkout may be another user than the one who runs the tests; git refuses that by default.
        foreach (var argument in (string[])["-c", "safe.directory=*", "ls-files", "-z", "--cached", "--others", "--exclude-standard"])
            start.ArgumentList.Add(argument);
        using var git = Process.Start(start) ?? throw new InvalidOperationException("git did not start");
        var names = git.StandardOutput.ReadToEnd().Split('\0', StringSplitOptions.RemoveEmptyEntries);
        git.WaitForExit();
        if (git.ExitCode != 0) throw new InvalidOperationException($"git ls-files ended with {git.ExitCode} in {Top}");
        return [.. names.Where(name => File.Exists(At(name))).Distinct().Order(StringComparer.Ordinal)];
    }

    private static string FindTop([CallerFilePath] string here = "")
    {
        foreach (var start in new[] { Path.GetDirectoryName(here), AppContext.BaseDirectory })
            for (var folder = start; folder is not null; folder = Path.GetDirectoryName(folder))
                if (File.Exists(Path.Combine(folder, "SetupAudit.sln"))) return folder;
        throw new InvalidOperationException($"SetupAudit.sln lies neither above {here} nor above {AppContext.BaseDirectory}");
    }
}
