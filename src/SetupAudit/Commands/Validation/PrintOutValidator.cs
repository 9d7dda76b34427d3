using FluentValidation;
using SetupAudit.Shop;

namespace SetupAudit.Commands.Validation;

/// <summary>What of a print-out's reading needs judgement.</summary>
internal sealed class PrintOutValidator : AbstractValidator<PrintOutConfig>
{
    public PrintOutValidator()
    {
        RuleFor(printOut => printOut.Time).Custom((format, context) =>
        {
            if (format is not null && TimeFormat.Fault(format) is { } fault)
                context.AddFailure($"\"{format}\" {fault}");
        });
        RuleForEach(printOut => printOut.Lines).SetValidator(new PrintPatternValidator());
    }
}
