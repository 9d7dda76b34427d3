using System.Globalization;
using FluentValidation;
using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Commands.Validation;

/// <summary>What of one machine needs judgement.</summary>
internal sealed class MachineValidator : AbstractValidator<MachineConfig>
{
    private const int NumbersMost = 1_000_000;

    public MachineValidator(ShopConfig shop)
    {
        RuleFor(machine => machine.TimeZone).IsTimeZone();
        RuleFor(machine => machine.Search)
            .Must((machine, search) => search is null || machine.Standoff is null || search > machine.Standoff)
            .WithMessage((machine, search) =>
                string.Create(CultureInfo.InvariantCulture,
                    $"{search} is not beyond the standoff of {machine.Standoff}; such a search meets no surface"))
            .OverridePropertyName("Probing.Search");
        RuleForEach(machine => machine.Names.Keys)
            .OverrideIndexer((_, _, name, _) => "." + name)
            .Must(name => !Register.TryParse(name, out _))
            .WithMessage((_, name) => $"\"{name}\" is a register's own name; a shop's name must be another")
            .OverridePropertyName("Names");
        RuleForEach(machine => machine.Watch)
            .OverrideIndexer((_, _, watch, _) => Place(watch.Index))
            .SetValidator(new WatchValidator(shop.PrintOuts.Keys));
        RuleForEach(machine => machine.ProbingCalls)
            .OverrideIndexer((_, _, call, _) => Place(call.Index))
            .SetValidator(new ProbingCallValidator());
        RuleFor(machine => machine).Custom(CheckNumbers);
    }

    private static string Place(int index) => string.Create(CultureInfo.InvariantCulture, $"[{index}]");

    // Two meanings of one number would make one of them wrong, and nobody could say which.
    private static void CheckNumbers(MachineConfig machine, ValidationContext<MachineConfig> context)
    {
        var taken = new Dictionary<long, int>();
        foreach (var map in machine.Parameters)
            foreach (var number in Numbers(map))
            {
                if (taken.TryAdd(number, map.Index) || taken.Count > NumbersMost) continue;
                context.AddFailure(
                    "Parameters" + Place(map.Index),
                    string.Create(CultureInfo.InvariantCulture,
                        $"gives parameter {number} a meaning that Parameters[{taken[number]}] gives another"));
                break;
            }
    }

    private static IEnumerable<long> Numbers(ParameterMap map)
    {
        var groups = Math.Max(1, Math.Max(map.Registers.Count, map.Tools.Count));
        var each = Math.Max(1, map.Axes.Count);
        for (var group = 0; group < groups; group++)
            for (var place = 0; place < each; place++)
                yield return map.First + (long)group * map.Step + place;
    }
}
