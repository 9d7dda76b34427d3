using System.Globalization;
using SetupAudit.Findings;
using SetupAudit.Reports;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Alerts.Letters;

/// <summary>The words that all forms of a message share.</summary>
internal static class AlertWords
{
    /// <summary>Stands in every message: a person's safety never rests on one.</summary>
    public const string Caution = "This is worked out from files and may be wrong or incomplete. It replaces no dry "
        + "run above the part, no first part in single block with reduced rapid, and no rule of your shop; if in "
        + "doubt, ask the person who is responsible for the machine.";

    private const int MessageMost = 600;
    private const int BecauseMost = 400;
    private const int WhatMost = 80;

    public static string Severity(Severity severity) => Word.Of(severity);

    /// <summary>The finding's sentence, cut where it is longer than anyone reads.</summary>
    public static string Sentence(AlertFinding finding) => VisibleText.Of(finding.Message.Trim(), MessageMost);

    /// <summary>"Z of G54 moved from -310.2 to -297.8 mm, by +12.4 mm; its limit is 0.5 mm."</summary>
    public static string Move(AlertMove move)
    {
        var what = VisibleText.Of(move.What, WhatMost);
        var limit = move.Limit is { } most ? $"; its limit is {With(most, move.Unit)}" : "";
        return (move.Before, move.After) switch
        {
            (null, null) => $"{what} has no value{limit}.",
            (null, { } after) => $"{what} is {With(after, move.Unit)}; nothing was known of it before{limit}.",
            ({ } before, null) => $"{what} was {With(before, move.Unit)} and has no value now{limit}.",
            ({ } before, { } after) => $"{what} moved from {Figures.Plain(before)} to {With(after, move.Unit)}, "
                + $"by {Signed(move.Delta ?? after - before)} {Length.ShortName(move.Unit)}{limit}.",
        };
    }

    /// <summary>The likeliest mistake with its probability, never as more than an estimate.</summary>
    public static string LikelyCause(Cause cause)
    {
        var share = Math.Round(cause.Probability * 100, MidpointRounding.AwayFromZero);
        var because = VisibleText.Of(cause.Because.Trim(), BecauseMost);
        return string.Create(CultureInfo.InvariantCulture,
            $"Most likely, by estimate ({share:0} in 100): {Named(cause.Name)}. {because}").TrimEnd();
    }

    /// <summary>"14 min", "3 h 12 min", "2 days 4 h".</summary>
    public static string Span(TimeSpan span)
    {
        if (span < TimeSpan.FromMinutes(1)) return Invariant($"{(int)span.TotalSeconds} s");
        if (span < TimeSpan.FromHours(1)) return Invariant($"{span.Minutes} min");
        if (span < TimeSpan.FromDays(1)) return Invariant($"{span.Hours} h {span.Minutes} min");
        return $"{Figures.Count(span.Days, "day", "days")} {Invariant($"{span.Hours} h")}";
    }

    private static string Named(string cause) => cause == "fixture-moved"
        ? "none of the known slips; the part or fixture itself may have moved"
        : VisibleText.Of(cause.Replace('-', ' '), WhatMost);

    private static string With(decimal value, Unit unit) => $"{Figures.Plain(value)} {Length.ShortName(unit)}";

    private static string Signed(decimal value) => value > 0 ? "+" + Figures.Plain(value) : Figures.Plain(value);

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
