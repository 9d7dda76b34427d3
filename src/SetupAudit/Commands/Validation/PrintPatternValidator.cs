using FluentValidation;
using SetupAudit.Shop;

namespace SetupAudit.Commands.Validation;

/// <summary>What of one pattern of a print-out needs judgement.</summary>
internal sealed class PrintPatternValidator : AbstractValidator<PrintPattern>
{
    private const string SurfaceNotFound = "surface-not-found";

    public PrintPatternValidator()
    {
        RuleFor(line => line.Match).Custom(CheckMatch);
        RuleFor(line => line.Kind)
            .Must(kind => kind is null or SurfaceNotFound || NearestWord.Of(kind, [SurfaceNotFound]) is null)
            .WithMessage((_, kind) => $"\"{kind}\" is no kind that is known; did you mean {SurfaceNotFound}?");
    }

    private static void CheckMatch(string pattern, ValidationContext<PrintPattern> context)
    {
        if (LinearPattern.Fault(pattern) is { } fault)
        {
            context.AddFailure(fault);
            return;
        }
        var named = LinearPattern.Create(pattern).GetGroupNames().Where(name => !char.IsAsciiDigit(name[0])).ToList();
        foreach (var group in named.Except(PrintPattern.Groups, StringComparer.Ordinal))
            context.AddFailure(NearestWord.Of(group, PrintPattern.Groups) is { } near
                ? $"has a group {group} that is not read; did you mean {near}?"
                : $"has a group {group} that is not read; use {string.Join(", ", PrintPattern.Groups)}, or no name");
        if (context.InstanceToValidate.Means == "tool-set" && !named.Contains("tool"))
            context.AddFailure("means tool-set and has no group tool; nobody could say which tool was set");
    }
}
