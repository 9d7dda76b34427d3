namespace SetupAudit.People;

/// <summary>What is told of something done about a person.</summary>
/// <param name="Name">Whom it is about.</param>
/// <param name="Why">What is done, and the reason given.</param>
/// <param name="By">Who is said to do it; null where nobody is.</param>
/// <param name="Account">The account of the operating system that does it.</param>
public sealed record PersonGiven(string Name, DateTimeOffset AtUtc, string Why, string? By, string Account);
