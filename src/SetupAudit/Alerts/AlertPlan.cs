using SetupAudit.Shop;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>Which messages are to be put up now, and what is not to be told; the rest waits.</summary>
internal sealed record AlertPlan(IReadOnlyList<MessageDraft> Messages, IReadOnlyList<ToldAlert> NotTold)
{
    // While more is raised than the cap lets out, one message that counts the rest goes out this often.
    private static readonly TimeSpan DigestEvery = TimeSpan.FromMinutes(1);

    /// <summary>What the plan is made from.</summary>
    internal sealed record Standing
    {
        public required IReadOnlyList<StoredAlert> Pending { get; init; }

        public required Func<StoredAlert, StandingAlert?> Told { get; init; }

        public required QuietTimes Quiets { get; init; }

        /// <summary>When messages were put up, digests left out.</summary>
        public required IReadOnlyList<DateTimeOffset> Recent { get; init; }

        public DateTimeOffset? LastDigestUtc { get; init; }
    }

    /// <param name="isLast">Nothing more comes, so that nothing waits for company.</param>
    public static AlertPlan Of(Standing standing, AlertPacing pacing, DateTimeOffset nowUtc, bool isLast)
    {
        var groups = AlertGroup.Of(standing.Pending.Where(alert => standing.Quiets.Of(alert.Machine, nowUtc) is null))
            .Where(group => isLast || nowUtc - group.SinceUtc >= pacing.Group).ToList();
        var (drafts, notTold) = (new List<MessageDraft>(), new List<ToldAlert>());
        foreach (var group in groups)
        {
            var plans = group.Alerts.GroupBy(alert => (alert.Machine, alert.Finding))
                .Select(finding => FindingPlan.Of([.. finding], standing.Told(finding.First()))).ToList();
            notTold.AddRange(plans.SelectMany(plan => plan.NotTold));
            if (MessageDraft.Of(group, [.. plans.Select(plan => plan.Tell).OfType<StoredAlert>()]) is { } draft)
                drafts.Add(draft);
        }
        var inWindow = standing.Recent.Count(atUtc => nowUtc - atUtc < pacing.Within);
        return new AlertPlan(Capped(drafts, Math.Max(0, pacing.Most - inWindow), standing, nowUtc), notTold);
    }

    // The worst go by themselves as long as the cap lets them; all others share one message, and wait for it if one
    // went out just now. Nothing is dropped.
    private static List<MessageDraft> Capped(
        List<MessageDraft> drafts, int budget, Standing standing, DateTimeOffset nowUtc)
    {
        if (drafts.Count <= budget) return drafts;
        var ranked = drafts.OrderByDescending(draft => draft.Severity).ToList();
        var alone = ranked.Take(budget).ToList();
        if (standing.LastDigestUtc is { } last && nowUtc - last < DigestEvery) return alone;
        var rest = ranked.Skip(budget).SelectMany(draft => draft.Tells)
            .OrderByDescending(alert => alert.Severity).ThenBy(alert => alert.Seq).ToList();
        return [.. alone, new MessageDraft(AlertKind.Digest, "several setups", rest)];
    }
}
