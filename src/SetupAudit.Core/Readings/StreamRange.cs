namespace SetupAudit.Readings;

/// <summary>Which observations of an agent a document holds, by their numbers.</summary>
/// <param name="Instance">Changes whenever the agent begins to count anew.</param>
/// <param name="From">Of every observation from here on it holds what was asked for.</param>
/// <param name="Next">The first that it does not hold any more; null where it was not read to its end.</param>
/// <param name="IsSnapshot">
/// It shows how everything stood, however long before: it holds observations older than those that the agent keeps.
/// </param>
public sealed record StreamRange(ulong Instance, ulong From, ulong? Next, bool IsSnapshot);
