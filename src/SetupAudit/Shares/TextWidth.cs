namespace SetupAudit.Shares;

/// <summary>How wide a character is, so that a print-out is never cut within one.</summary>
internal enum TextWidth
{
    Bytes,
    Utf16Little,
    Utf16Big,
}
