using System.Text.Json;
using SetupAudit.Datums;
using SetupAudit.Readings;
using SetupAudit.Units;

namespace SetupAudit.Shapes;

/// <summary>One version of a program as it comes back (contract section 5, <c>program</c>).</summary>
public sealed record ProgramView : IShape<ProgramView>
{
    public required string Program { get; init; }

    public string? Title { get; init; }

    public required string Machine { get; init; }

    public Unit? Units { get; init; }

    public required string Sha256 { get; init; }

    public required string File { get; init; }

    public required DateTimeOffset ModifiedUtc { get; init; }

    public required int Lines { get; init; }

    /// <summary>
    /// Registers it calls, its calls followed; <c>cuts</c> is null where a called program has not been read.
    /// </summary>
    public IReadOnlyList<(Register Register, bool? Cuts)> Registers { get; init; } = [];

    public IReadOnlyList<(int Tool, int? Length, int? Diameter)> Tools { get; init; } = [];

    /// <summary>
    /// What it sets itself; <c>register</c> or <c>tool</c> is null where the program works out which while it runs.
    /// </summary>
    public IReadOnlyList<(int Line, OffsetKey Key, bool IsNamed, decimal? Value)> Writes { get; init; } = [];

    public IReadOnlyList<(int Line, string Kind, decimal? Search, decimal? Standoff)> Probing { get; init; } = [];

    /// <summary>Called programs that no source has shown.</summary>
    public IReadOnlyList<string> Missing { get; init; } = [];

    public static ProgramView Of(string machine, ProgramText text, ProgramScope scope) => new()
    {
        Program = text.Program,
        Title = text.Title,
        Machine = machine,
        Units = text.Units,
        Sha256 = text.Sha256,
        File = text.File,
        ModifiedUtc = text.ModifiedUtc,
        Lines = text.Lines,
        Registers = [.. scope.Registers.Select(item => (item.Register, item.Cuts))],
        Tools = [.. scope.Tools.Select(item => (item.Tool, item.Length, item.Diameter))],
        Writes = [.. scope.Writes.Select(item =>
            (item.Line, item.Key, item.Target == ProgramWriteTarget.Named, item.Value))],
        Probing = [.. scope.Probing.Select(item => (item.Line, item.Kind, item.Search, item.Standoff))],
        Missing = scope.Missing,
    };

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.Text("program", Program);
        json.Text("title", Title);
        json.Text("machine", Machine);
        json.Unit("units", Units);
        json.Text("sha256", Sha256);
        json.Text("file", File);
        json.Time("modified", ModifiedUtc);
        json.Number("lines", Lines);
        json.Each("registers", Registers, WriteRegister);
        json.Each("tools", Tools, WriteTool);
        json.Each("writes", Writes, WriteWrite);
        json.Each("probing", Probing, WriteProbing);
        json.Texts("missing", Missing);
        json.WriteEndObject();
    }

    public static ProgramView Read(JsonElement body) => new()
    {
        Program = body.TextOf("program"),
        Title = body.Text("title"),
        Machine = body.TextOf("machine"),
        Units = body.Unit("units"),
        Sha256 = body.TextOf("sha256"),
        File = body.TextOf("file"),
        ModifiedUtc = body.TimeOf("modified"),
        Lines = body.WholeOf("lines"),
        Registers = body.List("registers",
            item => (ShapeValues.ParseRegister(item.TextOf("register")), item.Flag("cuts"))),
        Tools = body.List("tools", item => (item.WholeOf("tool"), item.Whole("length"), item.Whole("diameter"))),
        Writes = body.List("writes", ReadWrite),
        Probing = body.List("probing",
            item => (item.WholeOf("line"), item.TextOf("kind"), item.Number("search"), item.Number("standoff"))),
        Missing = body.Texts("missing"),
    };

    private static void WriteRegister(Utf8JsonWriter json, (Register Register, bool? Cuts) item)
    {
        json.Text("register", item.Register.ToString());
        json.Flag("cuts", item.Cuts);
    }

    private static void WriteTool(Utf8JsonWriter json, (int Tool, int? Length, int? Diameter) item)
    {
        json.Number("tool", item.Tool);
        json.Number("length", item.Length);
        json.Number("diameter", item.Diameter);
    }

    private static (int Line, OffsetKey Key, bool IsNamed, decimal? Value) ReadWrite(JsonElement item)
    {
        var (line, value) = (item.WholeOf("line"), item.Number("value"));
        if (item.Text("register") is not null || item.Whole("tool") is not null) return (line, item.Key(), true, value);
        var key = item.Text("of") is { } of
            ? OffsetKey.OfTool(0, ShapeValues.ParseToolPart(of))
            : OffsetKey.Datum(default, item.ChoiceOf<Axis>("axis"));
        return (line, key, false, value);
    }

    private static void WriteWrite(Utf8JsonWriter json, (int Line, OffsetKey Key, bool IsNamed, decimal? Value) item)
    {
        json.Number("line", item.Line);
        if (item.IsNamed) json.Key(item.Key);
        else if (item.Key.IsTool) json.Key(null, null, null, item.Key.Part);
        else json.Key(null, item.Key.Axis, null, null);
        json.Number("value", item.Value);
    }

    private static void WriteProbing(
        Utf8JsonWriter json, (int Line, string Kind, decimal? Search, decimal? Standoff) item)
    {
        json.Number("line", item.Line);
        json.Text("kind", item.Kind);
        json.Number("search", item.Search);
        json.Number("standoff", item.Standoff);
    }
}
