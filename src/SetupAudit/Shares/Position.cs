namespace SetupAudit.Shares;

/// <summary>
/// How far one file of a watched folder was taken in, as the store keeps it: the name is a key within the source, the
/// state is text that only this room reads. It decides what is read again and never what is derived.
/// </summary>
public readonly record struct Position(string Name, string State);
