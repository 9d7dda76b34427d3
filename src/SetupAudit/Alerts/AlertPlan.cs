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

        /// <summary>What was told to stand, and nothing that it cleared.</summary>
        public IEnumerable<StandingAlert> Standings { get; init; } = [];

        /// <summary>By machine, rule and finding: the share of a silent source; null for all else.</summary>
        public Func<string, string, string, string?> ShareOf { get; init; } = (_, _, _) => null;

        public required QuietTimes Quiets { get; init; }

        /// <summary>When messages were put up, digests left out.</summary>
        public required IReadOnlyList<DateTimeOffset> Recent { get; init; }

        public DateTimeOffset? LastDigestUtc { get; init; }
    }

    /// <param name="isLast">Nothing more comes, so that nothing waits for company.</param>
    public static AlertPlan Of(Standing standing, AlertPacing pacing, DateTimeOffset nowUtc, bool isLast)
    {
        var heard = standing.Pending.Where(alert => standing.Quiets.Of(alert.Machine, nowUtc) is null);
        var groups = AlertGroup.Of(heard, standing.ShareOf)
            .Where(group => isLast || group.IsDue(pacing.Group, nowUtc)).ToList();
        var (drafts, notTold) = (new List<MessageDraft>(), new List<ToldAlert>());
        foreach (var group in groups)
        {
            var plans = group.Alerts.GroupBy(alert => (alert.Machine, alert.Finding))
                .Select(finding => FindingPlan.Of([.. finding], standing.Told(finding.First()))).ToList();
            if (IsTold(group, plans, standing)) plans.RemoveAll(plan => plan.Tell is { Step: not AlertStep.Withdrawn });
            notTold.AddRange(plans.SelectMany(plan => plan.NotTold));
            if (MessageDraft.Of(group, [.. plans.Select(plan => plan.Tell).OfType<StoredAlert>()]) is { } draft)
                drafts.Add(draft);
        }
        var inWindow = standing.Recent.Count(atUtc => Passing.IsWithin(atUtc, pacing.Within, nowUtc));
        return new AlertPlan(Capped(drafts, Math.Max(0, pacing.Most - inWindow), standing, nowUtc), notTold);
    }

    // While it stands that a share fell silent, more of its sources are no news; they wait, and are told should they
    // still be silent once what was told has cleared.
    private static bool IsTold(AlertGroup group, List<FindingPlan> plans, Standing standing) => group.Share is { } share
        && standing.Standings.Any(told => standing.ShareOf(told.Machine, told.Rule, told.Finding) == share
            && !plans.Any(plan => plan.Tell is { Step: AlertStep.Withdrawn } cleared
                && (cleared.Machine, cleared.Finding) == (told.Machine, told.Finding)));

    // The worst go by themselves as long as the cap lets them; all others share one message, and wait for it if one
    // went out just now. Nothing is dropped.
    private static List<MessageDraft> Capped(
        List<MessageDraft> drafts, int budget, Standing standing, DateTimeOffset nowUtc)
    {
        if (drafts.Count <= budget) return drafts;
        var ranked = drafts.OrderBy(draft => draft.IsAllCleared).ThenByDescending(draft => draft.Severity).ToList();
        var alone = ranked.Take(budget).ToList();
        if (standing.LastDigestUtc is { } last && Passing.IsWithin(last, DigestEvery, nowUtc)) return alone;
        var rest = MessageDraft.Ranked(ranked.Skip(budget).SelectMany(draft => draft.Tells)).ToList();
        return [.. alone, new MessageDraft(AlertKind.Digest, MessageDraft.SeveralSetups, rest)];
    }
}
