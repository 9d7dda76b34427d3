using SetupAudit.Shapes;

namespace SetupAudit.Reports;

/// <summary>What people said of the setup: printed name, time and meaning of each review (21 CFR 11.50).</summary>
internal static class ReviewSection
{
    public static void Write(Markup page, SetupReport report)
    {
        if (report.Setup.Head.Review is not { } newest) return;
        using var section = page.In("section", "reviews");
        page.Put("h2", "Review");
        Review(page, report, newest);
        foreach (var earlier in newest.Earlier.Reverse())
        {
            page.Put("p", "Superseded by the one above:", "quiet");
            Review(page, report, earlier);
        }
    }

    private static void Review(Markup page, SetupReport report, ReviewView review)
    {
        using var article = page.In("article", review.Doubt is null ? "finding" : "finding grave");
        using (page.In("p", "weight"))
        {
            page.Put("b", Word.Of(review.Verdict).ToUpperInvariant());
            page.Put("span", review.Signed ? "signed" : "not signed");
        }
        using var text = page.In("div");
        page.Put("p", review.Words, "message");
        page.Put("p", $"Reason: {review.Reason}");
        if (review.Cause is { } cause) page.Put("p", $"Cause given: {cause}");
        page.Put("p", Beside(report, review), "beside");
    }

    private static string Beside(SetupReport report, ReviewView review)
    {
        var parts = new List<string>
        {
            review.By, $"{review.AtLocal} on the shop's clocks", Figures.Utc(review.AtUtc), $"review {review.Review}",
        };
        if (review.Setup != report.Setup.Head.Setup) parts.Add($"reviewed as {review.Setup}");
        if (review.SignedSha256 is { } signed) parts.Add($"SHA-256 of what was signed {signed}");
        return string.Join(" · ", parts);
    }
}
