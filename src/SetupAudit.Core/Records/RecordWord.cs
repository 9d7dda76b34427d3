namespace SetupAudit.Records;

/// <summary>Something to be said in the record, which has no number yet.</summary>
/// <param name="Said">One JSON object on one line.</param>
public sealed record RecordWord(RecordKind Kind, string Said);
