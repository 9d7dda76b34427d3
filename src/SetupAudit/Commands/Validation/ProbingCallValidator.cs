using System.Buffers;
using FluentValidation;
using SetupAudit.Shop;

namespace SetupAudit.Commands.Validation;

/// <summary>What of a probing call needs judgement.</summary>
internal sealed class ProbingCallValidator : AbstractValidator<ProbingCall>
{
    private static readonly SearchValues<char> Digits = SearchValues.Create("0123456789.");

    public ProbingCallValidator()
    {
        RuleFor(call => call.Call).Must(IsWords)
            .WithMessage((_, call) => $"\"{call}\" is no call; use words of a letter and a number, such as G65 P7040");
        RuleFor(call => call.Register)
            .Must((call, register) => register is null || register != call.Search)
            .WithMessage((_, register) =>
                $"{register} holds the search already; name the letter that holds the register");
    }

    private static bool IsWords(string call) => call.Split(' ', StringSplitOptions.RemoveEmptyEntries).All(word =>
        word.Length > 1 && char.IsAsciiLetter(word[0]) && !word.AsSpan(1).ContainsAnyExcept(Digits));
}
