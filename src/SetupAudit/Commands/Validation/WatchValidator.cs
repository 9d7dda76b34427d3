using FluentValidation;
using SetupAudit.Shop;

namespace SetupAudit.Commands.Validation;

/// <summary>What of a watched folder needs judgement.</summary>
internal sealed class WatchValidator : AbstractValidator<WatchConfig>
{
    private const string TimeGroup = "time";

    public WatchValidator(IEnumerable<string> printOuts)
    {
        IReadOnlyList<string> known = [.. printOuts];
        RuleFor(watch => watch.Lines)
            .Must(lines => lines is null || known.Contains(lines, StringComparer.Ordinal))
            .WithMessage((_, lines) => NoPrintOut(lines ?? "", known));
        RuleFor(watch => watch.TimePattern).Custom(CheckPattern);
        RuleFor(watch => watch.TimeFormat).Custom((format, context) =>
        {
            if (format is not null && TimeFormat.Fault(format) is { } fault)
                context.AddFailure("Time.As", $"\"{format}\" {fault}");
        });
        RuleFor(watch => watch.IsToLoad)
            .Must((watch, isToLoad) => !isToLoad || watch.Read is not (SourceKind.PrintOut or SourceKind.Mtconnect))
            .WithMessage("to-load is for files that are loaded into a control; nobody loads these")
            .OverridePropertyName("Is");
    }

    private static void CheckPattern(string? pattern, ValidationContext<WatchConfig> context)
    {
        if (pattern is null) return;
        var path = $"Time.{context.InstanceToValidate.Time}";
        if (LinearPattern.Fault(pattern) is { } fault) context.AddFailure(path, fault);
        else if (!LinearPattern.Create(pattern).GetGroupNames().Contains(TimeGroup, StringComparer.Ordinal))
            context.AddFailure(path, "has no group time; write (?<time>...) around the time");
    }

    private static string NoPrintOut(string lines, IReadOnlyList<string> known)
    {
        if (known.Count == 0) return $"\"{lines}\" is none of the PrintOuts: there are none; add it under PrintOuts";
        return NearestWord.Of(lines, known) is { } near
            ? $"\"{lines}\" is none of the PrintOuts; did you mean {near}?"
            : $"\"{lines}\" is none of the PrintOuts; use {string.Join(" or ", known)}";
    }
}
