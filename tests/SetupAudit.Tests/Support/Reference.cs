namespace SetupAudit.Support;

/// <summary>
/// Published data that is too large or not ours to commit. It lies where SETUPAUDIT_REFERENCE says, else beside the
/// repository; a test that wants it is skipped, with the reason, where it is not there.
/// </summary>
public static class Reference
{
    private static readonly string Folder =
        Environment.GetEnvironmentVariable("SETUPAUDIT_REFERENCE") is { Length: > 0 } chosen
            ? chosen
            : Repository.At("../shared/reference/data");

    /// <summary>The full path of a reference file or folder; skips the test where it is absent.</summary>
    public static string At(string name)
    {
        var path = Path.GetFullPath(Path.Combine(Folder, name));
        if (!Path.Exists(path))
            Assert.Skip($"reference data {name} is not there: set SETUPAUDIT_REFERENCE to the folder that holds it");
        return path;
    }
}
