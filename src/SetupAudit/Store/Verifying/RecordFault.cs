namespace SetupAudit.Store.Verifying;

/// <summary>One thing that is wrong with a record.</summary>
/// <param name="Code">What kind of fault, in a word that a program can look for: docs/records.md lists them.</param>
/// <param name="Entry">Number of the first entry that it concerns; null where it is about the whole.</param>
/// <param name="Text">What is wrong, in a sentence.</param>
public sealed record RecordFault(string Code, long? Entry, string Text);
