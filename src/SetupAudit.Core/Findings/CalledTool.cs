using SetupAudit.Readings;
using SetupAudit.Setups;

namespace SetupAudit.Findings;

/// <summary>A tool that a program of the setup changes to.</summary>
internal sealed record CalledTool(ProgramUse Use, ToolScope Tool)
{
    /// <summary>The number of the offset that holds its length: the one called with it, else the tool's own.</summary>
    public int Offset => Tool.Length ?? Tool.Tool;
}
