using System.Text;
using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>
/// Knows the machine's probing routines when a program calls them: their words may stand in any order.
/// </summary>
internal sealed class ProgramProbingCalls
{
    private const int ExtendedBase = 100;

    private readonly List<(ProbingCall Call, List<(char Letter, decimal Value)> Words)> _known = [];

    public ProgramProbingCalls(MachineConfig machine)
    {
        foreach (var call in machine.ProbingCalls)
        {
            var words = WordsOf(call.Call);
            // A call without a word would be found in every block.
            if (words.Count > 0) _known.Add((call, words));
        }
    }

    /// <summary>The routine that the block calls; null where it calls none.</summary>
    public ProbingCall? Find(ProgramBlock block)
    {
        foreach (var (call, words) in _known)
            if (HasAll(block, words)) return call;
        return null;
    }

    private static bool HasAll(ProgramBlock block, List<(char Letter, decimal Value)> words)
    {
        foreach (var (letter, value) in words)
            if (!block.HasWord(letter, value)) return false;
        return true;
    }

    /// <summary>What the call does, in the register it names or the one in force.</summary>
    public static ProbingMove MoveOf(
        ProbingCall call, ProgramBlock block, ProgramModes modes, Register? inForce, bool inForceUnknown)
    {
        var names = call.Register is { } letter ? block.Last(letter) : null;
        var named = names is { } word ? RegisterOf(word.Value) : null;
        var search = call.Search is { } holds && block.Last(holds) is { } distance ? modes.Length(distance) : null;
        return new ProbingMove
        {
            Line = block.Line,
            Kind = call.Kind,
            Search = search is { } length ? Math.Abs(length) : null,
            Register = names is null ? inForce : named,
            RegisterUnknown = names is null ? inForceUnknown : named is null,
            Sets = call.Sets,
        };
    }

    // G54 to G59.3 by their numbers, systems 1 to 6, 0 for the common one, 101 and up for G54.1 P1 and up.
    private static Register? RegisterOf(decimal? value) => value switch
    {
        0 => Register.Common,
        >= 1 and <= 6 when value == decimal.Truncate(value.Value) => Register.System((int)value),
        >= 54 and <= 59 when value == decimal.Truncate(value.Value) => Register.System((int)value - 53),
        59.1m or 59.2m or 59.3m => Register.System((int)((value.Value - 59) * 10) + 6),
        > ExtendedBase and <= ExtendedBase + Register.ExtendedMost when value == decimal.Truncate(value.Value) =>
            Register.Extended((int)value - ExtendedBase),
        _ => null,
    };

    private static List<(char Letter, decimal Value)> WordsOf(string call)
    {
        var words = new List<(char, decimal)>();
        var scanner = new WordScanner(Encoding.ASCII.GetBytes(call));
        while (scanner.Read())
            if (scanner is { Kind: WordKind.Word, IsNumber: true }) words.Add((scanner.Letter, scanner.Number.Value));
        return words;
    }
}
