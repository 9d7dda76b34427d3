using System.Text.Json;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Commands;

/// <summary>What verifying came to, as one JSON document.</summary>
internal static class VerifyJson
{
    private static readonly JsonSerializerOptions Form = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        WriteIndented = true,
        NewLine = "\n",
    };

    public static void Write(RecordCheck check, Terminal terminal) =>
        terminal.Out.WriteLine(JsonSerializer.Serialize(new
        {
            check.Holds,
            Record = check.Origin,
            check.Key,
            check.KeyWasGiven,
            check.Entries,
            check.VerifiedTo,
            check.AnchoredAt,
            check.Anchors,
            check.Stamps,
            check.Checkpoints,
            check.Rows,
            check.Evidence,
            check.IsWritten,
            check.Faults,
            check.FaultCount,
            check.Remarks,
        }, Form));
}
