namespace SetupAudit.Tracing;

/// <summary>The time in which parts may have been cut under a wrong offset.</summary>
/// <param name="FromUtc">The earliest moment the offset can have become wrong.</param>
/// <param name="CertainFromUtc">From here on it certainly was.</param>
/// <param name="CertainToUtc">Until here it certainly was.</param>
/// <param name="ToUtc">The latest moment it can have been put right, or the latest evidence.</param>
/// <param name="Undone">It was put right; else it still stands, as far as is known.</param>
public sealed record SuspectWindow(
    DateTimeOffset FromUtc, DateTimeOffset CertainFromUtc, DateTimeOffset CertainToUtc, DateTimeOffset ToUtc,
        bool Undone);
