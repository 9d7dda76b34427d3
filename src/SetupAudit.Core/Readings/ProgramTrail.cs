using SetupAudit.Datums;
using SetupAudit.Evidence;

namespace SetupAudit.Readings;

/// <summary>
/// Follows a program and what it calls, as the shelf held them at a moment. Every call is walked once for each
/// register,
/// tool and motion it is called under, so that calls of calls stay bounded.
/// </summary>
internal sealed class ProgramTrail(ProgramShelf shelf, DateTimeOffset moment)
{
    /// <summary>No control nests calls deeper than a few levels.</summary>
    public const int DepthMost = 32;

    public const int StepsMost = 200_000;
    public const int ListedMost = 20_000;

    private readonly ProgramScopeList _scopes = new();
    private readonly List<ProgramWrite> _writes = [];
    private readonly List<ProbingMove> _probing = [];
    private readonly List<string> _missing = [];
    private readonly HashSet<string> _missed = new(StringComparer.Ordinal);
    private readonly List<ProgramText> _running = [];
    private readonly List<ProgramText> _texts = [];
    private readonly HashSet<ProgramText> _followed = new(ReferenceEqualityComparer.Instance);
    private readonly Dictionary<ProgramText, Dictionary<ProgramInForce, ProgramInForce>> _walked =
        new(ReferenceEqualityComparer.Instance);
    private int _steps;
    private int _topLine;
    private bool _isCutShort;
    private bool _mayCallAnyTool;

    /// <summary>
    /// A program begins in G54, where M2 and M30 leave every control (RS274/NGC 3.6.1), and with the tool that is in
    /// the
    /// spindle.
    /// </summary>
    public ProgramScope Follow(ProgramText text)
    {
        Walk(text, new ProgramInForce(Register.System(1), null, null));
        if (_isCutShort) _scopes.MayCutAnywhere = true;
        return new ProgramScope
        {
            Registers = _scopes.Registers(),
            Tools = _scopes.Tools(),
            Writes = _writes.AsReadOnly(),
            Probing = _probing.AsReadOnly(),
            Missing = _missing.AsReadOnly(),
            Texts = _texts.AsReadOnly(),
            IsCutShort = _isCutShort,
            MayCutAnywhere = _scopes.MayCutAnywhere,
            MayCallAnyTool = _mayCallAnyTool,
        };
    }

    private ProgramInForce Walk(ProgramText text, ProgramInForce inForce)
    {
        _running.Add(text);
        if (_followed.Add(text)) _texts.Add(text);
        var (write, probe) = (0, 0);
        foreach (var step in text.Steps)
        {
            if (++_steps > StepsMost)
            {
                _isCutShort = true;
                break;
            }
            // What stands before the stretch, or on the line of a call, runs before it.
            List(text, ref write, ref probe, step.Calls is null ? step.Line - 1 : step.Line, inForce);
            if (_running.Count == 1) _topLine = step.Line;
            inForce = inForce.With(step);
            _mayCallAnyTool |= step.ToolUnknown;
            if (step.Calls is null) Take(text, step, inForce);
            else inForce = Call(text, step, inForce);
        }
        List(text, ref write, ref probe, int.MaxValue, inForce);
        _running.RemoveAt(_running.Count - 1);
        return inForce;
    }

    private void Take(ProgramText text, ProgramStep step, ProgramInForce inForce)
    {
        var isProbing = text.ProbeTool is { } probe && inForce.Tool == probe;
        bool? cuts = isProbing ? false : step.Cuts ? true : step.CutsIfCalledCutting ? inForce.Cuts : false;
        var namesTool = step.Tool is not null || step.LengthOffsets.Count + step.DiameterOffsets.Count > 0;
        if (namesTool && inForce.Tool is { } tool)
            _scopes.AddTool(tool, step, _running.Count == 1 ? step.Line : 0);
        var isUsed = step.Register is not null || step.Axes.Count > 0 || step.Cuts || step.CutsIfCalledCutting;
        if (!isUsed) return;
        if (inForce.Register is { } register) _scopes.AddRegister(register, cuts, step.Axes, step.LowestZ, _topLine);
        else _scopes.MayCutAnywhere |= cuts != false;
    }

    private ProgramInForce Call(ProgramText text, ProgramStep step, ProgramInForce inForce)
    {
        if (Find(text, step) is not { } called) return Miss(step.Calls ?? "", inForce);
        // A program that calls itself runs in a circle: what it does is being gathered already.
        if (_running.Exists(running => ReferenceEquals(running, called))) return inForce;
        if (_running.Count >= DepthMost)
        {
            _isCutShort = true;
            return Doubt(inForce);
        }
        // In a called program a move that names no motion may itself go by the one above.
        bool? cuts = step.CutsIfCalledCutting ? true
            : _running.Count == 1 || inForce.Cuts == false ? false
            : null;
        var entered = inForce with { Cuts = cuts };
        if (!_walked.TryGetValue(called, out var walked)) _walked[called] = walked = [];
        if (!walked.TryGetValue(entered, out var left)) walked[entered] = left = Walk(called, entered);
        return left with { Cuts = inForce.Cuts };
    }

    // A file's own sub-programs come first: another file may have others under the same numbers.
    private ProgramText? Find(ProgramText text, ProgramStep step) =>
        Find(text, step.CallsInFull) ?? Find(text, step.Calls);

    private ProgramText? Find(ProgramText text, string? name)
    {
        if (name is null) return null;
        var file = shelf.FileOf(text);
        foreach (var other in file.Subprograms)
            if (other.Program == name) return other;
        return file.Program == name ? file : shelf.At(name, moment);
    }

    private ProgramInForce Miss(string name, ProgramInForce inForce)
    {
        if (_missing.Count < ListedMost && _missed.Add(name)) _missing.Add(name);
        return Doubt(inForce);
    }

    /// <summary>
    /// A called program that was not followed may cut in the register in force, and may leave another one and another
    /// tool in force.
    /// </summary>
    private ProgramInForce Doubt(ProgramInForce inForce)
    {
        if (inForce.Register is { } register) _scopes.AddRegister(register, null, [], null, _topLine);
        else _scopes.MayCutAnywhere = true;
        return inForce with { Register = null, Tool = null };
    }

    private void List(ProgramText text, ref int write, ref int probe, int lastLine, ProgramInForce inForce)
    {
        var name = _running.Count == 1 ? null : text.Program;
        for (; write < text.Writes.Count && text.Writes[write].Line <= lastLine; write++)
        {
            if (_writes.Count >= ListedMost) _isCutShort = true;
            else _writes.Add(Resolved(text.Writes[write], inForce) with
            {
                Program = name,
                Source = new SourceLine(text.File, text.Sha256, text.Writes[write].Line),
            });
        }
        for (; probe < text.Probing.Count && text.Probing[probe].Line <= lastLine; probe++)
        {
            if (_probing.Count >= ListedMost) _isCutShort = true;
            else _probing.Add(Resolved(text.Probing[probe], inForce) with
            {
                Program = name,
                Source = new SourceLine(text.File, text.Sha256, text.Probing[probe].Line),
            });
        }
    }

    private static ProgramWrite Resolved(ProgramWrite write, ProgramInForce inForce)
    {
        if (write.Target != ProgramWriteTarget.InForce) return write;
        return inForce.Register is { } register
            ? write with { Key = OffsetKey.Datum(register, write.Key.Axis), Target = ProgramWriteTarget.Named }
            : write with { Target = ProgramWriteTarget.Unknown };
    }

    private static ProbingMove Resolved(ProbingMove move, ProgramInForce inForce)
    {
        if (move.Register is not null || move.RegisterUnknown) return move;
        return move with { Register = inForce.Register, RegisterUnknown = inForce.Register is null };
    }
}
