namespace SetupAudit.Support;

/// <summary>A program of the system that a test drives. tests/run.sh installs them where it may.</summary>
public static class Tool
{
    /// <summary>The full path of a program; skips the test where it is not installed.</summary>
    public static string At(string name)
    {
        var endings = OperatingSystem.IsWindows() ? new[] { ".exe", "" } : [""];
        var found = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
            .SelectMany(folder => endings.Select(ending => Path.Combine(folder, name + ending)))
            .FirstOrDefault(File.Exists);
        if (found is null) Assert.Skip($"{name} is not installed here; tests/run.sh names the package that brings it");
        return found;
    }
}
