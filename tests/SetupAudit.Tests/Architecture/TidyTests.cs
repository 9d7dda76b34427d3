using SetupAudit.Support;

namespace SetupAudit.Architecture;

public sealed class TidyTests(ITestOutputHelper output)
{
    private const int BytesMost = 4_000_000;

    [Fact]
    public void Every_tracked_file_keeps_house_style()
    {
        var files = Repository.Files().Select(Read).OfType<SourceFile>().ToList();
        // Without this an empty listing would pass.
        Assert.Contains(files, file => file.Path == "src/SetupAudit/Program.cs");
        foreach (var file in files.Where(file => file.IsCSharp && file.Lines.Count > TidyRules.LinesAim))
            output.WriteLine($"{file.Path}: {file.Lines.Count} lines; aim for {TidyRules.LinesAim}");
        Complaints.None(files.SelectMany(TidyRules.Look));
    }

    private static SourceFile? Read(string name)
    {
        var path = Repository.At(name);
        return new FileInfo(path).Length > BytesMost ? null : new SourceFile(name, File.ReadAllText(path));
    }
}
