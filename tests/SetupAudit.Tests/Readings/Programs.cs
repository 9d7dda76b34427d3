using System.Globalization;
using System.Text;
using SetupAudit.Datums;
using SetupAudit.Shop;
using SetupAudit.Support;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>Reads programs for tests, and says shortly what was read.</summary>
internal static class Programs
{
    public static readonly DateTimeOffset Modified = new(2026, 3, 2, 7, 0, 0, TimeSpan.Zero);

    public static MachineConfig Mill { get; } = new()
    {
        Name = "mill-3",
        Kind = MachineKind.Mill,
        Units = Unit.Millimetre,
        ProbeTool = 24,
        ProbingCalls =
        [
            new ProbingCall { Call = "G65 P7040", Kind = "single-surface", Search = 'Q', Sets = [Axis.Z], Register = 'S' },
            new ProbingCall { Call = "G65 P7050", Kind = "angle" },
        ],
    };

    /// <summary>
    /// As RS274/NGC has it: a point is not needed, and G10 sets under G91 too (NISTIR 6556 3.3.2.1, 3.5.5).
    /// </summary>
    public static MachineConfig Published { get; } = Mill with
    {
        WithoutPointIsIncrements = false,
        Dialect = new DialectConfig { G91Adds = false },
    };

    public static ProgramText Read(string text, MachineConfig? machine = null, string file = "programs/made-up.nc") =>
        Read(Encoding.UTF8.GetBytes(text.ReplaceLineEndings("\n")), machine, file);

    public static ProgramText Read(
        ReadOnlySpan<byte> bytes, MachineConfig? machine = null, string file = "programs/made-up.nc", int piece = int.MaxValue)
    {
        using var reader = new ProgramReader(machine ?? Mill, file, Modified);
        for (; bytes.Length > piece; bytes = bytes[piece..]) reader.Feed(bytes[..piece]);
        reader.Feed(bytes);
        return reader.Finish();
    }

    /// <summary>The first of these texts as it runs, the others on the shelf beside it.</summary>
    public static ProgramScope Scope(params string[] texts) => Scope(Mill, texts);

    public static ProgramScope Scope(MachineConfig machine, params string[] texts)
    {
        var shelf = new ProgramShelf();
        var read = texts.Select(text => Read(text, machine, Some.File())).ToList();
        foreach (var text in read) shelf.Add(text);
        return shelf.Scope(read[0].Program, Modified) ?? throw new InvalidOperationException("the program was not found");
    }

    /// <summary>
    /// "G54.X=4.0 G92.Z+=1 (?) ..." with the line's block left out: + adds, ? depends, ~ no known register.
    /// </summary>
    public static string Writes(IEnumerable<ProgramWrite> writes) => string.Join(' ', writes.Select(write => string.Create(
        CultureInfo.InvariantCulture,
        $"{Place(write)}{(write.Adds ? "+=" : "=")}{(write.Value is { } value ? value : "null")}{(write.Conditional ? "?" : "")}")));

    public static string Writes(string text, MachineConfig? machine = null) => Writes(Read(text, machine).Writes);

    /// <summary>"G54 cuts, G58 parks".</summary>
    public static string Registers(ProgramScope scope) => string.Join(", ", scope.Registers.Select(register =>
        $"{register.Register} {register.Cuts switch { true => "cuts", false => "parks", null => "may cut" }}"));

    public static string Registers(params string[] texts) => Registers(Scope(texts));

    /// <summary>"T3 H3 D13, T4".</summary>
    public static string Tools(ProgramScope scope) => string.Join(", ", scope.Tools.Select(tool =>
        $"T{tool.Tool}{(tool.Length is { } length ? $" H{length}" : "")}{(tool.Diameter is { } offset ? $" D{offset}" : "")}"));

    /// <summary>"3:5 why; ...": line, column and reason of each fault.</summary>
    public static string Faults(ProgramText text) =>
        string.Join("; ", text.Faults.Select(fault => $"{fault.Line}:{fault.Column} {fault.Reason}"));

    private static string Place(ProgramWrite write) => write.Target switch
    {
        ProgramWriteTarget.Named => write.Key.ToString(),
        ProgramWriteTarget.InForce => $"in force.{write.Key.Axis}",
        _ when write.Key.IsTool => $"~.{ToolPartName.Of(write.Key.Part)}",
        _ => $"~.{write.Key.Axis}",
    };
}
