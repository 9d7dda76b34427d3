using SetupAudit.Setups;

namespace SetupAudit.Shapes;

/// <summary>What a review means, in sentences that stand wherever it is shown.</summary>
public static class ReviewWords
{
    /// <param name="doubt">Why it no longer covers its setup, as half a sentence; null where it does.</param>
    public static string Of(Review review, string? doubt = null)
    {
        var verdict = Word.Of(review.Verdict);
        var said = review.IsSigned
            ? $"Reviewed and {verdict} by {review.By} ({review.Role}), who signed with name and password."
            : $"Recorded as {verdict} under the name {review.By}; nobody proved that name.";
        var now = doubt is null ? "" : $" Queried again: {doubt}.";
        return $"{said}{now} The verdict concerns the setup, not the parts cut in it.";
    }
}
