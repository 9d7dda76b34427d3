using System.Text.Encodings.Web;
using System.Text.Json;
using SetupAudit.Datums;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>
/// A pair below fixtures/program: a program and all that reading it and following it must give. The beginning of its
/// name says on which machine.
/// </summary>
internal static class ProgramFixture
{
    private static readonly JsonSerializerOptions Plain = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static MachineConfig MachineOf(string name) =>
        name.StartsWith("inch-", StringComparison.Ordinal) ? Programs.Mill with { Units = Unit.Inch, Resolution = 0.0001m }
        : name.StartsWith("lathe-", StringComparison.Ordinal)
            ? Programs.Mill with { Kind = MachineKind.Lathe, XOnDiameter = true, ProbeTool = null }
        : name.StartsWith("published-", StringComparison.Ordinal) ? Programs.Published
        : Programs.Mill;

    /// <summary>One stretch, write, move or fault a line, so that a difference shows what moved.</summary>
    public static string Json(ProgramText text)
    {
        var shelf = new ProgramShelf();
        shelf.Add(text);
        var parts = new[] { text }.Concat(text.Subprograms).Select(part => Json(part, shelf));
        return string.Join('\n', parts);
    }

    private static string Json(ProgramText text, ProgramShelf shelf)
    {
        var scope = shelf.Scope(text.Program, text.ModifiedUtc) ?? throw new InvalidOperationException("not on its shelf");
        return $$"""
            {
              "program": {{Line(text.Program)}}, "title": {{Line(text.Title)}}, "units": {{Line(text.Units?.ToString())}}, "lines": {{text.Lines}},
              "sha256": {{Line(text.Sha256)}},
              "withoutComments": {{Line(text.WithoutCommentsSha256)}},
              "registers": [{{Lines(scope.Registers.Select(Json))}}],
              "tools": [{{Lines(scope.Tools.Select(tool => Line(new { tool.Tool, tool.Length, tool.Diameter, tool.Line })))}}],
              "missing": {{Line(scope.Missing)}},
              "steps": [{{Lines(text.Steps.Select(Json))}}],
              "writes": [{{Lines(text.Writes.Select(Json))}}],
              "probing": [{{Lines(text.Probing.Select(Json))}}],
              "faults": [{{Lines(text.Faults.Select(Line))}}]
            }
            """;
    }

    private static string Json(RegisterScope scope) => Line(new
    {
        register = scope.Register.ToString(),
        cuts = scope.Cuts,
        axes = Joined(scope.Axes),
        lowestZ = scope.LowestZ,
        line = scope.Line,
    });

    private static string Json(ProgramStep step) => Line(new
    {
        line = step.Line,
        register = step.RegisterUnknown ? "?" : step.Register?.ToString(),
        tool = step.ToolUnknown ? "?" : (object?)step.Tool,
        cuts = step.Cuts,
        asCalled = step.CutsIfCalledCutting,
        axes = Joined(step.Axes),
        lowestZ = step.LowestZ,
        calls = step.Calls,
        inFull = step.CallsInFull,
        h = step.LengthOffsets,
        d = step.DiameterOffsets,
    });

    private static string Json(ProgramWrite write) => Line(new
    {
        line = write.Line,
        key = write.Key.ToString(),
        target = write.Target.ToString(),
        value = write.Value,
        adds = write.Adds,
        conditional = write.Conditional,
        text = write.Text,
    });

    private static string Json(ProbingMove move) => Line(new
    {
        line = move.Line,
        kind = move.Kind,
        search = move.Search,
        standoff = move.Standoff,
        register = move.RegisterUnknown ? "?" : move.Register?.ToString(),
        sets = Joined(move.Sets),
    });

    private static string Joined(IEnumerable<Axis> axes) => string.Concat(axes);

    private static string Line<T>(T value) => JsonSerializer.Serialize(value, Plain);

    private static string Lines(IEnumerable<string> items)
    {
        var text = string.Join(",\n", items.Select(item => "    " + item));
        return text.Length == 0 ? "" : $"\n{text}\n  ";
    }
}
