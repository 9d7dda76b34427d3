using SetupAudit.Support;

namespace SetupAudit;

/// <summary>
/// Runs what README.md, DEVELOPERS.md and docs/ show. The examples of a document run one after the other in one empty
/// folder, as a reader would type them; deploy/ and docs/ lie in it as they do in a checkout.
/// </summary>
public sealed class DocumentedExamplesTests
{
    public static TheoryData<string> Documents =>
    [
        .. FilesBelow("docs").Prepend("DEVELOPERS.md").Prepend("README.md")
            .Where(name => name.EndsWith(".md", StringComparison.Ordinal) && File.Exists(Repository.At(name)))
            .Where(name => ConsoleExample.In(File.ReadAllText(Repository.At(name))).Count > 0),
    ];

    [Theory(SkipTestWithoutData = true)]
    [MemberData(nameof(Documents))]
    public void What_a_document_shows_is_what_the_program_does(string document)
    {
        using var folder = new TempShare();
        foreach (var name in FilesBelow("deploy").Concat(FilesBelow("docs")))
            folder.Write(name, File.ReadAllBytes(Repository.At(name)));

        foreach (var example in ConsoleExample.In(File.ReadAllText(Repository.At(document))))
        {
            var ran = BuiltProgram.Run(folder.Folder, example.Arguments).Exits(example.ExitCode);
            if (example.FirstMissing(ran.Output + ran.Errors) is { } missing)
                Assert.Fail($"{document}:{example.Line} shows a line that was not written:\n{missing}\n{ran}");
        }
    }

    private static IEnumerable<string> FilesBelow(string folder) =>
        !Directory.Exists(Repository.At(folder))
            ? []
            : Directory.EnumerateFiles(Repository.At(folder), "*", SearchOption.AllDirectories)
                .Select(path => Path.GetRelativePath(Repository.Top, path).Replace('\\', '/'))
                .Order(StringComparer.Ordinal);
}
