using SetupAudit.Datums;

namespace SetupAudit.Readings;

/// <summary>Gathers what a followed program does, by register and by tool, in the order they come.</summary>
internal sealed class ProgramScopeList
{
    private readonly List<RegisterScope> _registers = [];
    private readonly List<UsedTool> _tools = [];

    /// <summary>
    /// Something cut, or may have, in a register that is not known: no register is known not to be cut in.
    /// </summary>
    public bool MayCutAnywhere { get; set; }

    /// <summary>A stretch in a register; <paramref name="cuts"/> is null where that is not known.</summary>
    public void AddRegister(Register register, bool? cuts, IReadOnlyList<Axis> axes, decimal? lowestZ, int line)
    {
        var place = _registers.FindIndex(scope => scope.Register == register);
        if (place < 0)
        {
            _registers.Add(new RegisterScope
            {
                Register = register,
                Cuts = cuts,
                Axes = axes,
                LowestZ = lowestZ,
                Line = line,
            });
            return;
        }
        var before = _registers[place];
        _registers[place] = before with
        {
            Cuts = before.Cuts == true || cuts == true ? true : before.Cuts is null || cuts is null ? null : false,
            Axes = before.Axes.Count == 0 ? axes : [.. before.Axes.Union(axes).Order()],
            LowestZ = before.LowestZ is { } low && (lowestZ is not { } other || low <= other) ? low : lowestZ,
        };
    }

    public void AddTool(int tool, ProgramStep step, int line)
    {
        var used = _tools.Find(known => known.Tool == tool);
        if (used is null) _tools.Add(used = new UsedTool(tool, line));
        foreach (var offset in step.LengthOffsets)
            if (!used.Lengths.Contains(offset)) used.Lengths.Add(offset);
        foreach (var offset in step.DiameterOffsets)
            if (!used.Diameters.Contains(offset)) used.Diameters.Add(offset);
    }

    public IReadOnlyList<RegisterScope> Registers() => !MayCutAnywhere
        ? [.. _registers]
        : [.. _registers.Select(scope => scope.Cuts == true ? scope : scope with { Cuts = null })];

    /// <summary>A tool has an entry for each length offset called with it; mostly there is one.</summary>
    public IReadOnlyList<ToolScope> Tools()
    {
        var list = new List<ToolScope>();
        foreach (var tool in _tools)
            for (var index = 0; index == 0 || index < Math.Max(tool.Lengths.Count, tool.Diameters.Count); index++)
                list.Add(new ToolScope(tool.Tool, At(tool.Lengths, index), At(tool.Diameters, index), tool.Line));
        return list.AsReadOnly();
    }

    private static int? At(List<int> offsets, int index) => index < offsets.Count ? offsets[index] : null;

    private sealed record UsedTool(int Tool, int Line)
    {
        public List<int> Lengths { get; } = [];

        public List<int> Diameters { get; } = [];
    }
}
