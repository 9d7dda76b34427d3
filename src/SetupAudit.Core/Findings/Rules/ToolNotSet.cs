using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>The program calls a tool whose length has no value.</summary>
internal sealed class ToolNotSet : IRule
{
    public string Name => "tool-not-set";

    public Severity Default => Severity.High;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        if (setupCase.JudgedAt() is not { } judgedUtc) return [];
        return from tools in setupCase.CalledTools()
               let key = Empty(setupCase, tools.Key)
               where key is not null && !tools.Any(called => called.Use.SetsItself(key.Value))
               let atUtc = tools.Select(called => called.Use).JudgedWith(judgedUtc)
               where !IsSetBetween(setupCase, tools.Key, judgedUtc, atUtc)
               select Found(setupCase, key.Value, [.. tools], atUtc);
    }

    // A tool measured after cutting started with one program is in time for the next that calls it.
    private static bool IsSetBetween(SetupCase setupCase, int tool, DateTimeOffset judgedUtc, DateTimeOffset atUtc) =>
        atUtc > judgedUtc && SetMarks.Until(setupCase, atUtc).Any(mark =>
            mark.AtUtc > judgedUtc && mark.Key.IsTool && mark.Key.Tool == tool);

    private Finding Found(SetupCase setupCase, OffsetKey key, List<CalledTool> tools, DateTimeOffset atUtc)
    {
        var state = setupCase.Setup.After[key];
        var uses = tools.Select(called => called.Use).DistinctBy(use => use.Program).ToList();
        var calls = $"{Words.List(uses.Select(use => use.Program))} {(uses.Count == 1 ? "calls" : "call")}";
        var what = setupCase.Machine.IsLathe && key.Part == ToolPart.Z ? "geometry" : "length";
        var numbers = Words.List(tools.Select(called => Words.Number(called.Tool.Tool)));
        var number = tools.Exists(called => called.Tool.Tool != key.Tool)
            ? $"tool {numbers} with offset {Words.Number(key.Tool)}"
            : $"tool {Words.Number(key.Tool)}";
        var stands = state?.Value is null
            ? "the control holds no value for it"
            : $"it stands at 0 since {setupCase.Told(state.SinceUtc)}";
        var message = $"{calls} {number}, whose {what} has no value: {stands}.{setupCase.Doubts(uses)}";
        var lines = tools.Select(called => called.Tool.Line > 0 ? called.Use.Line(called.Tool.Line) : null);
        return setupCase.Raise(this, Severity.High, key, message, atUtc, lines.Append(state?.Source)) with
        {
            Value = state?.Value,
        };
    }

    /// <summary>The part of the tool that is known to hold nothing; null where it holds a value or is unsaid.</summary>
    private static OffsetKey? Empty(SetupCase setupCase, int tool)
    {
        var after = setupCase.Setup.After;
        var length = OffsetKey.OfTool(tool, ToolPart.Length);
        if (!setupCase.Machine.IsLathe)
            return IsEmpty(after, length) && !IsReference(setupCase, length) ? length : null;
        var x = OffsetKey.OfTool(tool, ToolPart.X);
        var z = OffsetKey.OfTool(tool, ToolPart.Z);
        if (after[x] is null && after[z] is null) return IsEmpty(after, length) ? length : null;
        return IsEmpty(after, x) && IsEmpty(after, z) ? z : null;
    }

    private static bool IsEmpty(OffsetTable after, OffsetKey key) => after[key] is { Value: null or 0m };

    // Lengths taken from a reference tool are differences, some of them below zero, and the reference itself is 0.
    private static bool IsReference(SetupCase setupCase, OffsetKey key) =>
        !setupCase.Machine.ZFromToolLengths && setupCase.Setup.After.Value(key) is 0m
        && setupCase.Setup.After.Tools.Any(tool =>
            setupCase.Setup.After.Value(OffsetKey.OfTool(tool, ToolPart.Length)) < 0m);
}
