using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>What is to be said of one finding, out of what happened to it since something was last said.</summary>
/// <param name="Tell">The word that a message tells; null where there is nothing to say.</param>
/// <param name="NotTold">The others, each with why.</param>
internal sealed record FindingPlan(StoredAlert? Tell, IReadOnlyList<ToldAlert> NotTold)
{
    /// <summary>
    /// One message while a condition lasts, and one when it clears: only what stands at the end counts, against what
    /// was last told.
    /// </summary>
    /// <param name="pending">What happened, oldest first; at least one.</param>
    /// <param name="told">What a message last told of the finding; null where none did.</param>
    public static FindingPlan Of(IReadOnlyList<StoredAlert> pending, StandingAlert? told)
    {
        var last = pending[^1];
        var stands = told is { Step: not AlertStep.Withdrawn };
        var tell = last.Step == AlertStep.Withdrawn ? stands : !stands || last.Severity > told?.Severity;
        return new FindingPlan(tell ? last : null,
        [
            .. pending.Where(alert => !tell || alert != last)
                .Select(alert => new ToldAlert(alert.Seq, null, false, WhyNot(alert, last, stands))),
        ]);
    }

    private static string WhyNot(StoredAlert alert, StoredAlert last, bool stands)
    {
        if (alert.Step == AlertStep.Withdrawn)
            return alert == last
                ? "it cleared before it was sent"
                : "it came back before it was sent that it had cleared";
        if (last.Step == AlertStep.Withdrawn)
            return stands ? "it cleared again before it was sent" : "it cleared before it was sent";
        return stands && last.Severity <= alert.Severity
            ? "it was sent before, and nothing was sent that it had cleared"
            : "the message tells a later word of it";
    }
}
