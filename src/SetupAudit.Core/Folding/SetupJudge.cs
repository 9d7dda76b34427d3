using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Findings;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Folding;

/// <summary>Puts a setup before the rules, with the programs, sheets and past that belong to it.</summary>
internal sealed class SetupJudge(
    ShopConfig shop, MachineConfig machine, ProgramShelf programs, SheetShelf sheets, ReviewShelf reviews,
    SetupBuilder builder)
{
    private readonly bool _tellsCycles = MachineSources.TellCycles(shop, machine);
    private readonly bool _tellsTouches = MachineSources.TellTouches(shop, machine);

    public ReviewShelf Reviews => reviews;

    /// <summary>The setup with its findings.</summary>
    /// <param name="untilUtc">When the pallet's next setup opened; null while none has.</param>
    public DerivedSetup Judge(LiveSetup live, OffsetTable now, DateTimeOffset? untilUtc = null)
    {
        var setupCase = Case(live, now, untilUtc);
        return new DerivedSetup(setupCase.Setup, setupCase.Programs, RuleBook.Judge(setupCase));
    }

    public SetupCase Case(LiveSetup live, OffsetTable now, DateTimeOffset? untilUtc = null)
    {
        var uses = Uses(live);
        return new SetupCase
        {
            Shop = shop,
            Machine = machine,
            Setup = builder.Finish(live, now) with
            {
                Programs = [.. uses.Select(use => use.Program)],
                Reviews = reviews.Of(machine.Name, live.Pallet, live.OpenedUtc, untilUtc),
            },
            Programs = uses,
            Shelf = programs,
            LastCuts = live.LastCuts,
            LastCycles = live.LastCycles,
            Past = live.Past,
            Previous = live.Previous,
            RecentChanges = live.RecentChanges,
            CauseCounts = reviews.CauseCounts(live.OpenedUtc),
            TellsCycles = _tellsCycles,
            TellsTouches = _tellsTouches,
        };
    }

    /// <summary>
    /// What the judged values of a setup teach: each register its programs cut in and each tool they call; where no
    /// program is known, or the text of one, each offset that was set.
    /// </summary>
    public static IEnumerable<PastValue> Lessons(DerivedSetup derived)
    {
        var setup = derived.Setup;
        var set = setup.Changes.Where(change => !change.IsFirstSight).Select(change => change.Key)
            .Concat(setup.Touches.Where(touch => !touch.Missed).Select(touch => touch.Key)).ToHashSet();
        var moment = setup.JudgedUtc ?? setup.OpenedUtc;
        foreach (var (key, state) in setup.After.States)
        {
            if (state.Value is not { } value) continue;
            foreach (var use in derived.Programs.Where(use => Uses(use, key) ?? set.Contains(key)))
                yield return new PastValue(
                    key, value, use.Program, use.Text?.Title, setup.Id, moment, set.Contains(key));
            if (derived.Programs.Count == 0 && set.Contains(key))
                yield return new PastValue(key, value, null, null, setup.Id, moment, WasSet: true);
        }
    }

    // Null where the program's text is not known.
    private static bool? Uses(ProgramUse use, OffsetKey key) => key.IsTool
        ? use.Scope?.Tools.Any(tool => tool.Tool == key.Tool || tool.Length == key.Tool || tool.Diameter == key.Tool)
        : use.Scope?.Registers.Any(scope => scope.Cuts == true && scope.Register == key.Register);

    private List<ProgramUse> Uses(LiveSetup live)
    {
        var hands = live.Programs.Count > 0 ? live.Programs.ToList() : LookedBack(live);
        return [.. hands.Select(hand => Use(hand.Program, hand.AtUtc, byLookback: live.Programs.Count == 0))];
    }

    private ProgramUse Use(string program, DateTimeOffset moment, bool byLookback)
    {
        var text = programs.At(program, moment);
        return new ProgramUse
        {
            Program = program,
            AtUtc = moment,
            Text = text,
            TextIsLater = text is not null && text.ModifiedUtc > moment,
            Scope = programs.Scope(program, moment),
            Sheet = sheets.At(program, moment),
            ByLookback = byLookback,
        };
    }

    /// <summary>No print-out names a program: those whose files were written shortly before are the likely
    /// ones.</summary>
    private List<ProgramInHand> LookedBack(LiveSetup live)
    {
        var until = live.JudgedUtc ?? live.LastEventUtc;
        var since = live.OpenedUtc - TimeSpan.FromHours(shop.Setups.ProgramLookbackHours);
        var written = programs.Names
            .Where(name => programs.Versions(name).Any(text => text.ModifiedUtc >= since && text.ModifiedUtc <= until))
                .ToList();
        if (written.Count > 1)
        {
            var set = live.Changes.Where(change => !change.IsFirstSight && change.Key.IsDatum)
                .Select(change => change.Key.Register).ToHashSet();
            var calling = written
                .Where(name => programs.Scope(name, until)?.Registers
                    .Any(scope => set.Contains(scope.Register)) == true).ToList();
            if (calling.Count > 0) written = calling;
        }
        return [.. written.Select(name => new ProgramInHand(name, until))];
    }
}
