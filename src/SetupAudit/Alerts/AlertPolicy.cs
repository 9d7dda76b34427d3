using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>What alerts make of a finding that was raised or changed: whether it is to be told, or why not.</summary>
public sealed class AlertPolicy(AlertsConfig config, bool hasChannels)
{
    /// <summary>A function of what it is given and the configuration alone.</summary>
    public StoredAlert? Look(string machine, DerivedChange change, AlertNews news, DateTimeOffset nowUtc)
    {
        ArgumentNullException.ThrowIfNull(change);
        ArgumentNullException.ThrowIfNull(news);
        if (change.Body is not { } body) return null;
        var finding = ShapeBody.Read<FindingView>(body);
        var step = AlertStep.Raised;
        if (change.Step == DerivedStep.Changed)
        {
            // A condition that goes on is no news, unless it came to be worse, up to a severity that is sent.
            var former = change.Former is { } text ? ShapeBody.Read<FindingView>(text).Severity : finding.Severity;
            if (finding.Severity <= former || finding.Severity < config.Severity) return null;
            step = AlertStep.Risen;
        }
        return new StoredAlert
        {
            AtUtc = nowUtc,
            Machine = machine,
            Finding = change.Id,
            Setup = finding.Setup,
            Rule = finding.Rule,
            Severity = finding.Severity,
            HeldUtc = finding.AtUtc,
            Step = step,
            WhyNot = WhyNot(finding, news),
        };
    }

    private string? WhyNot(FindingView finding, AlertNews news)
    {
        if (finding.Severity < config.Severity)
            return $"its severity is {Word.Of(finding.Severity)}, and {Word.Of(config.Severity)} and up is sent";
        if (!hasChannels) return "the configuration names nobody to send it to";
        return finding.AtUtc > news.AfterUtc || finding.Evidence.Any(line => news.NewEvidence.Contains(line.Sha256))
            ? null
            : $"it is about the past: {news.Past}";
    }
}
