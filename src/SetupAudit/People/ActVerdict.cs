namespace SetupAudit.People;

/// <summary>Whether an act can be kept, and why not, in a sentence.</summary>
internal sealed record ActVerdict(ActOutcome Outcome, string Says)
{
    public static ActVerdict Fine { get; } = new(ActOutcome.Done, "");

    public static ActVerdict Refused(string says) => new(ActOutcome.Refused, says);

    public static ActVerdict Changed { get; } = new(
        ActOutcome.Changed, "The setup changed while it was reviewed; look at it again.");
}
