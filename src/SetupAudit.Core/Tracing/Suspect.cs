using SetupAudit.Changes;
using SetupAudit.Datums;

namespace SetupAudit.Tracing;

/// <summary>An offset that may be wrong by an amount, and so explain a part error.</summary>
/// <param name="Key">The offset.</param>
/// <param name="Change">The change that brought the value; null where it stood from before anything was known.</param>
/// <param name="Wrong">The value that stood minus the value it should have had.</param>
/// <param name="Spread">How well the value it should have had is known, as a standard deviation.</param>
/// <param name="Weight">How likely it is that this, and not something else, is wrong, before the part is looked
/// at.</param>
/// <param name="Stale">It was not set in the setup: the wrong is that nobody touched it.</param>
/// <param name="Because">Why that value was expected, in words.</param>
internal sealed record Suspect(
    OffsetKey Key, Change? Change, double Wrong, double Spread, double Weight, bool Stale, string Because)
{
    /// <summary>The value it should have had.</summary>
    public required decimal Should { get; init; }

    /// <summary>Whether a value is about as wrong, and not nearly right again.</summary>
    public bool IsStillWrong(decimal? value) =>
        value is { } known && Math.Abs((double)(known - Should)) > Math.Abs(Wrong) / 2
        && Math.Sign(known - Should) == Math.Sign(Wrong);
}
