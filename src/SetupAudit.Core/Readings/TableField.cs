namespace SetupAudit.Readings;

/// <summary>Where a field of a table stands: its bytes without quotes, and its line and column from 1.</summary>
internal readonly record struct TableField(int Start, int Length, bool IsQuoted, int Line, int Column);
