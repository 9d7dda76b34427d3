namespace SetupAudit.Reports.Paper;

/// <summary>A cell of a table.</summary>
/// <param name="Inner">What stands in it.</param>
/// <param name="IsAlarm">It has an outline that shows in grey as well.</param>
/// <param name="IsOneLine">It is not broken while there is room for it.</param>
internal sealed record TableCell(Block Inner, bool IsAlarm, bool IsOneLine);
