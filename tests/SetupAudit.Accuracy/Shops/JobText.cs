using SetupAudit.Datums;
using SetupAudit.Readings;

namespace SetupAudit.Accuracy.Shops;

/// <summary>What the program of a job says: its registers, one after the other, and the tools it cuts with.</summary>
internal static class JobText
{
    public static ProgramText Of(MadeMachine machine, Job job, DateTimeOffset modifiedUtc) => new()
    {
        Program = job.Program,
        Title = "PART OF " + job.Program,
        Units = machine.Config.Units,
        Sha256 = job.Program,
        WithoutCommentsSha256 = job.Program,
        File = $"programs/{job.Program}.nc",
        ModifiedUtc = modifiedUtc,
        Lines = 100,
        ProbeTool = machine.Config.ProbeTool,
        Steps = [.. job.Datums.SelectMany((datum, index) => Steps(job, datum, index * 40))],
    };

    private static IEnumerable<ProgramStep> Steps(Job job, JobDatum datum, int line) =>
        job.Tools.Select((tool, index) => new ProgramStep
        {
            Line = line + 3 * index + 2,
            Register = datum.Register,
            Tool = tool.Number,
            Cuts = true,
            Axes = tool.IsTurning ? [Axis.X, Axis.Z] : [Axis.X, Axis.Y, Axis.Z],
            LengthOffsets = [tool.Number],
            DiameterOffsets = [tool.Number],
        });
}
