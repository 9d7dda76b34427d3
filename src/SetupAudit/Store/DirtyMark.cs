namespace SetupAudit.Store;

/// <summary>
/// From where on a machine must be folded again, because something was read that its fold has not seen.
/// </summary>
/// <param name="From">The first place in its time line that changed.</param>
/// <param name="ByLookUp">A program, sheet or waiting file changed: later folds may differ for that alone.</param>
public sealed record DirtyMark(SightingPosition From, bool ByLookUp)
{
    /// <summary>The mark that covers both.</summary>
    public static DirtyMark? Earlier(DirtyMark? left, DirtyMark? right) => (left, right) switch
    {
        (null, _) => right,
        (_, null) => left,
        _ => new DirtyMark(left.From <= right.From ? left.From : right.From, left.ByLookUp || right.ByLookUp),
    };
}
