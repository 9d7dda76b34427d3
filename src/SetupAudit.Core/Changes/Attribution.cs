using SetupAudit.Evidence;
using SetupAudit.Readings;

namespace SetupAudit.Changes;

/// <summary>Says by what an offset changed, as far as a print-out, a program in hand or a waiting file says
/// so.</summary>
public sealed class Attribution(ProgramShelf programs, ToLoadShelf toLoad)
{
    /// <summary>The change with its cause: a program's own write, a touch, a value restored; unknown where nothing
    /// says.</summary>
    public Change Explain(Change change, IReadOnlyList<TouchRecord> touches, IReadOnlyList<ProgramSpan> runs)
    {
        if (change.IsFirstSight) return change;
        if (ByProgram(change, runs) is { } program)
            return change with { By = ChangedBy.Program, BySays = program.Says, BySource = program.Source };
        if (ByTouch(change, touches) is { } touch)
            return change with { By = touch.By, BySays = Says(touch), BySource = touch.Source, ByUtc = touch.AtUtc };
        if (ByProbing(change, runs) is { } probing)
            return change with { By = ChangedBy.Measured, BySays = probing.Says, BySource = probing.Source };
        if (toLoad.Explains(change) is { } waiting)
            return change with
            {
                By = ChangedBy.Restored,
                BySays = $"the waiting file {waiting.File} holds this value",
                BySource = waiting
            };
        return change.SameAsUtc is null
            ? change
            : change with { By = ChangedBy.Restored, BySays = "the register is back at an older state of itself" };
    }

    /// <summary>Whether a cutting program that was running may have made the change itself (a probing program run on
    /// its own sets up): a datum write, or a probing call
    /// that sets the axis.</summary>
    public bool MadeByProgram(Change change, IReadOnlyList<ProgramSpan> runs)
    {
        var cutting = runs.Where(run => run.Cuts).ToList();
        return ByProgram(change, cutting) is not null || ByProbing(change, cutting) is not null;
    }

    private static TouchRecord? ByTouch(Change change, IReadOnlyList<TouchRecord> touches) =>
        touches.LastOrDefault(touch => touch.Explains(change.Key) && touch.AtUtc <= change.ToUtc
            && (change.FromUtc is null || touch.AtUtc > change.FromUtc || change.Touched
                && touch.AtUtc == change.ToUtc));

    private static string Says(TouchRecord touch) => touch.Feature is null
        ? $"print-out line {touch.Source.Line}"
        : $"print-out line {touch.Source.Line}, feature {touch.Feature}";

    private (string Says, SourceLine Source)? ByProgram(Change change, IReadOnlyList<ProgramSpan> runs)
    {
        foreach (var run in runs.Where(run => run.MayHold(change)).Reverse())
        {
            var text = programs.At(run.Program, run.StartUtc);
            var fitting = programs.Scope(run.Program, run.StartUtc)?.Writes
                .Where(write => write.MayWrite(change.Key))
                .Where(write => write.Value is null || write.Adds || write.Value == change.After).ToList();
            // A block that names the register says more than one that works it out.
            var write = fitting?.Find(write => write.Writes(change.Key)) ?? fitting?.FirstOrDefault();
            if (text is not null && write is not null)
                return ($"{write.Program ?? run.Program} line {write.Line}: {write.Text}",
                    write.Source ?? new SourceLine(text.File, text.Sha256, write.Line));
        }
        return null;
    }

    private (string Says, SourceLine Source)? ByProbing(Change change, IReadOnlyList<ProgramSpan> runs)
    {
        if (!change.Key.IsDatum) return null;
        foreach (var run in runs.Where(run => run.MayHold(change)).Reverse())
        {
            var text = programs.At(run.Program, run.StartUtc);
            var move = programs.Scope(run.Program, run.StartUtc)?.Probing.FirstOrDefault(move =>
                move.MaySet(change.Key));
            if (text is not null && move is not null)
                return ($"{move.Program ?? run.Program} line {move.Line}: {move.Kind} probing",
                    move.Source ?? new SourceLine(text.File, text.Sha256, move.Line));
        }
        return null;
    }
}
