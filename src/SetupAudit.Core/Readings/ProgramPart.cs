using SetupAudit.Evidence;

namespace SetupAudit.Readings;

/// <summary>One program within a file, while the file is read.</summary>
internal sealed class ProgramPart(ProgramRun run, int firstLine, int faultsBefore)
{
    public ProgramRun Run => run;

    /// <summary>Its O number or name; null where none was given yet.</summary>
    public string? Name { get; set; }

    public string? Title { get; set; }

    /// <summary>Of a sub-program: the hash of its own text without comments.</summary>
    public string? TextSha256 { get; set; }

    public int Lines { get; private set; }

    public IReadOnlyList<Fault> Faults { get; private set; } = [];

    public void End(int lastLine, ProgramFaults faults)
    {
        run.Finish();
        Lines = Math.Max(0, lastLine - firstLine + 1);
        Faults = faults.From(faultsBefore);
    }
}
