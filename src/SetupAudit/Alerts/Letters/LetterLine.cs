namespace SetupAudit.Alerts.Letters;

/// <summary>One line of a message; every character of it is one that shows.</summary>
internal readonly record struct LetterLine(LetterRole Role, string Text);
