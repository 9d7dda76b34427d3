namespace SetupAudit.Readings;

/// <summary>A place in a program's lists: how many writes and probing moves came before it.</summary>
internal readonly record struct ProgramMark(int Writes, int Probing);
