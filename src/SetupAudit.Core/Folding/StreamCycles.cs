using SetupAudit.Readings;
using SetupAudit.Setups;

namespace SetupAudit.Folding;

/// <summary>
/// Folds an agent's words of execution into cycles. Finished is only what the agent calls completed, or what its count
/// of parts went up by one for; what was stopped or reset is aborted; all else is unknown (docs/streams.md).
/// </summary>
/// <param name="areTold">
/// Print-outs of the machine tell its cycles, and more of each: the agent's word is not needed.
/// </param>
internal sealed class StreamCycles(PrintFolding prints, bool areTold)
{
    private const string Active = "ACTIVE";

    /// <summary>In these a cycle goes on, or may be resumed.</summary>
    private static readonly HashSet<string> Held = new(StringComparer.Ordinal)
    {
        "INTERRUPTED", "WAIT", "FEED_HOLD", "OPTIONAL_STOP", "PROGRAM_STOPPED", "PROGRAM_OPTIONAL_STOP",
    };

    private static readonly HashSet<string> Manual = new(StringComparer.Ordinal)
    {
        "MANUAL", "MANUAL_DATA_INPUT", "EDIT",
    };

    public StreamState Take(FoldStep step, StreamState stream, StreamObservation observation)
    {
        switch (observation.Means)
        {
            case StreamMeaning.Program:
                return stream.TellsMain ? stream : Named(step, stream, observation);
            case StreamMeaning.MainProgram:
                return Named(step, stream with { TellsMain = true }, observation);
            case StreamMeaning.PartCount:
                return Counted(step, stream with { Count = observation.Count });
            case StreamMeaning.Mode:
                return stream with { ByHand = Manual.Contains(observation.Text ?? "") };
            case StreamMeaning.Execution:
                return areTold ? stream : Executes(step, stream, observation);
            case StreamMeaning.Fault:
                prints.Fold(step, Line(observation, PrintMeaning.Alarm) with
                {
                    Code = observation.Code,
                    Text = observation.Text,
                    Kind = observation.Kind,
                });
                return stream;
            default:
                return stream;
        }
    }

    /// <summary>Observations were lost, or the agent began anew: what runs now is not known.</summary>
    public StreamState Break(FoldStep step, StreamState stream, int line)
    {
        if (!areTold) CycleFolding.Lost(step, new PrintLine { Line = line, Means = PrintMeaning.CycleStop });
        return stream with { Execution = null, CountableUtc = null, Count = null };
    }

    private static StreamState Named(FoldStep step, StreamState stream, StreamObservation observation)
    {
        if (observation.IsUnavailable || ProgramName.OfFile(observation.Text ?? "") is not { Length: > 0 } program)
            return stream;
        // While a cycle runs the word may be that of a sub-program.
        if (step.State.Running is null) CycleFolding.InHand(step, program);
        return stream with { Program = program };
    }

    private StreamState Executes(FoldStep step, StreamState stream, StreamObservation observation)
    {
        var (word, before) = (observation.Text ?? "", stream.Execution);
        if (observation.IsUnavailable)
        {
            CycleFolding.Lost(step, Line(observation, PrintMeaning.CycleStop));
            return stream with { Execution = null, CountableUtc = null };
        }
        stream = stream with { Execution = word };
        if (word == Active) return Starts(step, stream, observation, before);
        if (Held.Contains(word) || step.State.Running is not { } running) return stream;
        var ending = word == "PROGRAM_COMPLETED" || IsCounted(stream) ? CycleEnding.Finished
            : word == "STOPPED" || Held.Contains(before ?? "") ? CycleEnding.Aborted
            : CycleEnding.Unknown;
        CycleFolding.End(step, Line(observation, PrintMeaning.CycleEnd) with
        {
            Count = IsCounted(stream) ? stream.Count : null,
        }, ending);
        if (stream.Program is { } program && program != step.State.InHand) CycleFolding.InHand(step, program);
        return stream with { CountableUtc = ending == CycleEnding.Unknown ? running.StartUtc : null };
    }

    private StreamState Starts(FoldStep step, StreamState stream, StreamObservation observation, string? before)
    {
        if (stream.ByHand || (Held.Contains(before ?? "") && step.State.Running is not null)) return stream;
        prints.Fold(step, Line(observation, PrintMeaning.CycleStart) with { Program = stream.Program });
        return stream with { CountAtStart = stream.Count, CountableUtc = null };
    }

    private static bool IsCounted(StreamState stream) =>
        stream is { Count: { } count, CountAtStart: { } start } && count - 1 == start;

    // Some agents count the part a moment after the program's end.
    private static StreamState Counted(FoldStep step, StreamState stream)
    {
        if (stream.CountableUtc is not { } startUtc || !IsCounted(stream)) return stream;
        CycleFolding.Finished(step, startUtc, stream.Count);
        return stream with { CountableUtc = null };
    }

    private static PrintLine Line(StreamObservation observation, PrintMeaning means) =>
        new() { Line = observation.Line, Means = means };
}
