using SetupAudit.Changes;
using SetupAudit.Evidence;
using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>A change that was, or may have been, made while a cycle ran.</summary>
internal sealed record CuttingMove(Change Change, CycleSpan Span, Severity Severity)
{
    /// <summary>The whole interval of the change lies within the cycle.</summary>
    public bool IsCertain { get; init; }

    /// <summary>Whether the program calls and writes the offset could be read.</summary>
    public bool IsKnown { get; init; } = true;

    /// <summary>For a tool measured again: the alarm or stop before it, in words.</summary>
    public string? Interrupted { get; init; }

    public SourceLine? InterruptedSource { get; init; }

    /// <summary>The truest word of when it moved.</summary>
    public DateTimeOffset AtUtc => Change.Touched ? Change.ToUtc : Change.ByUtc ?? Change.ToUtc;
}
