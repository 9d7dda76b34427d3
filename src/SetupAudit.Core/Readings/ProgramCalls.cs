using System.Globalization;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>
/// Tells which program a block calls. Only O&lt;name&gt; call is a dialect of RS274/NGC; the rest is common practice.
/// </summary>
internal static class ProgramCalls
{
    private const int CallCode = 98;
    private const int CallFromOutside = 198;
    private const int Repeats = 10_000;

    /// <summary>The normalised name of the program that the block calls; null where it calls none.</summary>
    /// <param name="keepsLocals">The called program has parameters of its own below 100 (G65, G66).</param>
    /// <param name="inFull">For a number that may have the count of repeats in front: the name with all its
    /// digits.</param>
    public static string? Name(
        ProgramBlock block, ReadOnlySpan<byte> line, DialectConfig dialect, out string? inFull, out bool keepsLocals)
    {
        inFull = null;
        keepsLocals = false;
        if (block.Flow.HasFlag(ProgramFlowWord.Call)) return block.Name;
        var isCall = block.HasM(CallCode) || block.HasM(CallFromOutside);
        keepsLocals = block.HasG(ProgramCodes.Call) || block.HasG(ProgramCodes.ModalCall) || block.HasG(661);
        if (!isCall && !keepsLocals) return null;
        if (block.Last('P') is not { } place)
            return isCall && block.Comment is { } name
                ? ProgramName.Normalise(name, dropEnding: true)
                : AsWritten(line);
        if (place.Whole is not { } number || number < 0) return AsWritten(line);
        if (!dialect.CallByNumber) return string.Create(CultureInfo.InvariantCulture, $"P{number}");
        if (!isCall || number < Repeats) return Numbered(number);
        inFull = Numbered(number);
        return Numbered(number % Repeats);
    }

    private static string Numbered(int number) => string.Create(CultureInfo.InvariantCulture, $"O{number}");

    // The program does not say which: the block itself is all that can be told, and no program has its name.
    private static string AsWritten(ReadOnlySpan<byte> line) => ProgramComments.TextOf(line) ?? "?";
}
