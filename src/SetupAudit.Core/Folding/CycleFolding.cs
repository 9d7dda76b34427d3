using SetupAudit.Changes;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Folding;

/// <summary>Folds what a source tells of programs in hand and of cycles.</summary>
internal sealed class CycleFolding(MachineConfig machine, ProgramShelf programs)
{
    private const int RunsKept = 400;

    public static void InHand(FoldStep step, string program)
    {
        step.State = step.State with { InHand = program };
        if (step.Live is { InProduction: false } live) step.Put(SetupBuilder.Hand(live, program, step.Now));
    }

    public static void Hand(FoldStep step, PrintLine line)
    {
        if (line.Program is { } program) InHand(step, program);
    }

    public void Start(FoldStep step, PrintLine line)
    {
        if (step.State.Running is not null) Ended(step, null, CycleEnding.Unknown, line);
        var program = line.Program ?? step.State.InHand;
        var cycle = new Cycle
        {
            Machine = machine.Name,
            Program = program,
            StartUtc = step.Now,
            Part = line.Part,
            Serial = line.Serial,
            Pallet = line.Pallet ?? (step.State.Pallet.Length == 0 ? null : step.State.Pallet),
            Order = line.Order,
            Count = line.Count,
            Source = step.Sighting.At(line.Line),
            CutsNothing = program is not null && CutsNothing(program, step.Now),
        };
        if (program is not null) step.State = step.State with { InHand = program };
        if (step.Live is { } live)
        {
            if (program is not null && !cycle.CutsNothing) live = SetupBuilder.Hand(live, program, step.Now);
            live = SetupBuilder.Start(live, cycle, step.State.Table);
            step.Put(live);
            cycle = live.Cycles[^1];
        }
        step.State = step.State with { Running = cycle, Runs = Began(step, cycle) };
        if (program is not null && !cycle.CutsNothing) Cut(step, program, cycle);
    }

    public static void End(FoldStep step, PrintLine line, CycleEnding ending)
    {
        if (step.State.Running is not null) Ended(step, step.Now, ending, line);
    }

    /// <summary>How the running cycle ends, and when, was not seen.</summary>
    public static void Lost(FoldStep step, PrintLine line) => Ended(step, null, CycleEnding.Unknown, line);

    /// <summary>A cycle that ended in a way nobody told turns out to have made its part.</summary>
    public static void Finished(FoldStep step, DateTimeOffset startUtc, int? count)
    {
        if (step.Live is not { } live) return;
        var index = live.Cycles.FindLastIndex(cycle =>
            cycle.StartUtc == startUtc && cycle is { Ended: CycleEnding.Unknown, EndUtc: not null });
        if (index < 0) return;
        var ended = live.Cycles[index] with { Ended = CycleEnding.Finished, Count = live.Cycles[index].Count ?? count };
        var open = live with { Cycles = live.Cycles.SetItem(index, ended with { EndUtc = null }) };
        step.Put(SetupBuilder.End(open, ended, step.State.Table));
    }

    private static void Ended(FoldStep step, DateTimeOffset? endUtc, CycleEnding ending, PrintLine line)
    {
        if (step.State.Running is not { } running) return;
        var ended = running with
        {
            EndUtc = endUtc,
            Ended = ending,
            Part = running.Part ?? (endUtc is null ? null : line.Part),
            Serial = running.Serial ?? (endUtc is null ? null : line.Serial),
            Count = running.Count ?? (endUtc is null ? null : line.Count),
        };
        var runs = step.State.Runs;
        var run = runs.FindLastIndex(span => span.StartUtc == running.StartUtc);
        step.State = step.State with
        {
            Running = null,
            Runs = run < 0 ? runs : runs.SetItem(run, runs[run] with { EndUtc = endUtc ?? step.Now }),
        };
        if (step.Live is not { } live) step.Loose(ended);
        else step.Put(Close(step, live, ended));
    }

    private static LiveSetup Close(FoldStep step, LiveSetup live, Cycle ended)
    {
        var index = live.Cycles.FindLastIndex(cycle => cycle.StartUtc == ended.StartUtc);
        if (index < 0) return live;
        // What the end told of the part is kept with the cycle; its own setup stays its owner.
        var told = live with
        {
            Cycles =
            live.Cycles.SetItem(index,
                live.Cycles[index] with { Part = ended.Part, Serial = ended.Serial, Count = ended.Count })
        };
        return SetupBuilder.End(told, ended, step.State.Table);
    }

    private static System.Collections.Immutable.ImmutableList<ProgramSpan> Began(FoldStep step, Cycle cycle)
    {
        if (cycle.Program is null) return step.State.Runs;
        var runs = step.State.Runs.Add(
            new ProgramSpan(cycle.Program, cycle.StartUtc, null, cycle.Source, !cycle.CutsNothing));
        return runs.Count > RunsKept ? runs.RemoveAt(0) : runs;
    }

    private bool CutsNothing(string program, DateTimeOffset moment) =>
        programs.Scope(program, moment) is { IsWhole: true } scope
            && scope.Registers.All(item => item.Cuts == false);

    // Which program last cut in each register: later setups ask whether a job is carried over.
    private void Cut(FoldStep step, string program, Cycle cycle)
    {
        var title = programs.At(program, cycle.StartUtc)?.Title;
        var cuts = programs.Scope(program, cycle.StartUtc)?.Registers
            .Where(scope => scope.Cuts == true).Select(scope => scope.Register).ToHashSet() ?? [];
        var last = step.State.LastCuts.ToBuilder();
        foreach (var (register, cut) in step.State.LastCuts)
            if (cut.Program != program || cut.Title != title) last[register] = cut with { OthersSince = true };
        foreach (var register in cuts) last[register] =
            new LastCut(program, title, cycle.StartUtc, false, cycle.Source);
        step.State = step.State with
        {
            LastCuts = last.ToImmutable(),
            LastCycles = step.State.LastCycles.SetItem(program, cycle),
            FirstAsked = step.State.FirstAsked.ContainsKey(program)
                ? step.State.FirstAsked
                : step.State.FirstAsked.Add(program, cycle.StartUtc),
        };
    }
}
