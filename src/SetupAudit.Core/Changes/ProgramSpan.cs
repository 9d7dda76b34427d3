using SetupAudit.Evidence;

namespace SetupAudit.Changes;

/// <summary>A program was running: from the start of a cycle to its end.</summary>
/// <param name="EndUtc">Null while it runs, or where no source told its end.</param>
/// <param name="Cuts">The program cuts, as far as is known: one that only probes or moves sets up and makes no
/// parts.</param>
public sealed record ProgramSpan(
    string Program, DateTimeOffset StartUtc, DateTimeOffset? EndUtc, SourceLine Source, bool Cuts = true)
{
    /// <summary>Whether a change in (from, to] may lie within the run.</summary>
    public bool MayHold(Change change) =>
        change.ToUtc >= StartUtc && (EndUtc is null || change.FromUtc is null || change.FromUtc < EndUtc);
}
