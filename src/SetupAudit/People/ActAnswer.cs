namespace SetupAudit.People;

/// <summary>The answer to an act: what became of it, in a sentence where it was not kept.</summary>
public sealed record ActAnswer(string Id, ActOutcome Outcome, string Says);
