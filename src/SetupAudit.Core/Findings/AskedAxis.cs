using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>An axis of a register, or a tool's length, that a setup is asked to have set, and who asks.</summary>
internal sealed record AskedAxis(OffsetKey Key)
{
    /// <summary>The programs that cut with it.</summary>
    public IReadOnlyList<ProgramUse> Programs { get; init; } = [];

    /// <summary>The sheets that name it.</summary>
    public IReadOnlyList<SetupSheet> Sheets { get; init; } = [];

    /// <summary>Why it is asked for although neither a program nor a sheet is known to want it; else null.</summary>
    public string? Unknown { get; init; }

    public IReadOnlyList<SourceLine> Evidence { get; init; } = [];

    public bool IsByUnknown => Programs.Count == 0 && Sheets.Count == 0;

    /// <summary>Who asks, to follow "and": "O2041 cuts in G54 and moves in Z".</summary>
    public string Because => IsByUnknown
        ? Unknown ?? ""
        : string.Join("; ", Programs.Select(ByProgram).Concat(Sheets.Select(BySheet)).Distinct());

    private string ByProgram(ProgramUse use) => Key.IsTool
        ? $"{use.Program} calls it"
        : $"{use.Program} cuts in {Key.Register} and moves in {Words.Axis(Key.Axis)}";

    private string BySheet(SetupSheet sheet) =>
        $"the setup sheet of {sheet.Program} asks for {Words.Axis(Key.Axis)} of {Key.Register}";
}
