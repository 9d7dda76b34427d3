using SetupAudit.Accuracy.Mistakes;
using SetupAudit.Accuracy.Shops;
using SetupAudit.Changes;
using SetupAudit.Findings;
using SetupAudit.Folding;
using SetupAudit.Setups;

namespace SetupAudit.Accuracy.Trials;

/// <summary>
/// A shop in which one mistake is far more common than all others. The first ones are reviewed, each with the cause
/// that was found; the later ones are asked for with and without what the reviews teach.
/// </summary>
internal sealed class Learning(int seed, ShopChoice choice)
{
    private const int Reviewed = 40;
    private const int Asked = 60;

    // The common one makes up so much of all mistakes; the rest are shared evenly.
    private const double Common = 0.6;

    private static readonly string[] Commons =
        ["gauge-height", "riser-height", "lift-left-in", "mistyped-digit", "fixture-moved", "stylus-radius"];

    private readonly string _common = Commons[seed % Commons.Length];
    private readonly ReviewShelf _reviews = new();
    private readonly List<Answer> _before = [];
    private readonly List<Answer> _after = [];
    private readonly Dice _dice = Dice.For(seed, "learning");

    public (IReadOnlyList<Answer> Before, IReadOnlyList<Answer> After) Run()
    {
        var machines = MachineMaker.Make(seed, choice).Where(machine => !machine.Config.IsLathe)
            .Select(machine => (Machine: machine, History: History.Play(machine, seed))).ToList();
        for (var days = 1; days <= Reviewed + Asked; days++)
        {
            var (machine, history) = _dice.Pick(machines);
            var planting = Planting.Of(machine, history, _dice.Pick(machine.Jobs), days + AfterAnyPast(machines, history));
            if (days <= Reviewed) Review(planting);
            else Ask(planting);
        }
        return (_before, _after);
    }

    // What is asked later must lie after every review, on whichever machine that was.
    private static int AfterAnyPast(IReadOnlyList<(MadeMachine Machine, History History)> machines, History own) =>
        (int)Math.Ceiling((machines.Max(item => item.History.EndsUtc) - own.EndsUtc).TotalDays / 2);

    private void Review(Planting planting)
    {
        if (Play(planting) is not { } played) return;
        var setup = played.Derived.Setup;
        _reviews.Add(new Review
        {
            Id = setup.Id,
            Machine = setup.Machine,
            Setup = setup.Id,
            OpenedUtc = setup.OpenedUtc,
            AtUtc = setup.OpenedUtc.AddHours(12),
            AtLocal = "",
            Verdict = ReviewVerdict.Rejected,
            Reason = "set anew",
            Cause = played.Slip.Cause,
            By = "Ann Reed",
            Basis = ReviewStanding.Basis(setup, played.Derived.Findings),
            RowsSha256 = "",
        });
    }

    private void Ask(Planting planting)
    {
        if (Play(planting) is not { } before) return;
        var machine = planting.Machine;
        var taught = planting with
        {
            By = new Derivation(
                machine.Shop, machine.Config, machine.Programs, machine.Sheets, new ToLoadShelf(), _reviews),
        };
        if (Play(taught) is not { } after) throw new InvalidOperationException("the same day came out otherwise");
        foreach (var key in before.Slip.Wrong.Keys)
            if (Answer.Of(_common, before.Slip.Cause, before.Derived.Findings, key) is { } first
                && Answer.Of(_common, after.Slip.Cause, after.Derived.Findings, key) is { } second)
            {
                _before.Add(first);
                _after.Add(second);
            }
    }

    private (Slip Slip, DerivedSetup Derived)? Play(Planting planting)
    {
        var dice = Dice.For(seed, $"learning {planting.Machine.Config.Name} {planting.Days}");
        var cause = dice.Chance(Common) ? _common : dice.Pick(MistakeBook.All).Cause;
        var make = MistakeBook.All.First(mistake => mistake.Cause == cause).Make;
        return planting.Play(dice, make) is { Slip: { } slip } played ? (slip, played.Derived) : null;
    }
}
