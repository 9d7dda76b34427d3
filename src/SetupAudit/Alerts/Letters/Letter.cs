namespace SetupAudit.Alerts.Letters;

/// <summary>A message in words, before it is put into the form of a channel.</summary>
/// <param name="Subject">One short line.</param>
internal sealed record Letter(string Subject, IReadOnlyList<LetterLine> Lines);
