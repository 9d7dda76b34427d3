using System.Text.Json;
using SetupAudit.Findings;
using SetupAudit.Setups;

namespace SetupAudit.Shapes;

/// <summary>
/// A review as it comes back, in the setup it shows on (contract section 5) and in the list of reviews.
/// </summary>
public sealed record ReviewView : IShape<ReviewView>
{
    /// <summary>Id of the review.</summary>
    public required string Review { get; init; }

    public required string Machine { get; init; }

    /// <summary>The setup's id as it was when it was reviewed.</summary>
    public required string Setup { get; init; }

    public required string By { get; init; }

    public string? Person { get; init; }

    public string? Role { get; init; }

    public required ReviewVerdict Verdict { get; init; }

    public required string Reason { get; init; }

    public string? Cause { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    /// <summary>On the shop's clocks, with their distance from UTC.</summary>
    public required string AtLocal { get; init; }

    public required bool Signed { get; init; }

    /// <summary>What it means, in whole sentences.</summary>
    public required string Words { get; init; }

    /// <summary>Why it no longer covers its setup; null where it does, and in the list of reviews.</summary>
    public string? Doubt { get; init; }

    /// <summary>SHA-256 of what was signed; null where nobody proved the name.</summary>
    public string? SignedSha256 { get; init; }

    /// <summary>Reviews of the same setup that this one supersedes, oldest first.</summary>
    public IReadOnlyList<ReviewView> Earlier { get; init; } = [];

    public static ReviewView Of(Review review) => new()
    {
        Review = review.Id,
        Machine = review.Machine,
        Setup = review.Setup,
        By = review.By,
        Person = review.Person,
        Role = review.Role,
        Verdict = review.Verdict,
        Reason = review.Reason,
        Cause = review.Cause,
        AtUtc = review.AtUtc,
        AtLocal = review.AtLocal,
        Signed = review.IsSigned,
        Words = ReviewWords.Of(review),
        SignedSha256 = review.SignedSha256,
    };

    /// <summary>The newest of a setup's reviews, with the others in it.</summary>
    public static ReviewView Of(IReadOnlyList<Review> reviews, ReviewBasis basis)
    {
        var newest = reviews[^1];
        var doubt = ReviewStanding.Doubt(newest, basis);
        return Of(newest) with
        {
            Words = ReviewWords.Of(newest, doubt),
            Doubt = doubt,
            Earlier = [.. reviews.SkipLast(1).Select(Of)],
        };
    }

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        WriteFields(json);
        json.Text("doubt", Doubt);
        json.Each("earlier", Earlier, (to, view) => view.WriteFields(to));
        json.WriteEndObject();
    }

    public static ReviewView Read(JsonElement body) => new()
    {
        Review = body.TextOf("review"),
        Machine = body.TextOf("machine"),
        Setup = body.TextOf("setup"),
        By = body.TextOf("by"),
        Person = body.Text("person"),
        Role = body.Text("role"),
        Verdict = body.ChoiceOf<ReviewVerdict>("verdict"),
        Reason = body.TextOf("reason"),
        Cause = body.Text("cause"),
        AtUtc = body.TimeOf("at"),
        AtLocal = body.TextOf("atLocal"),
        Signed = body.FlagOf("signed"),
        Words = body.TextOf("words"),
        Doubt = body.TryGetProperty("doubt", out var doubt) ? doubt.GetString() : null,
        SignedSha256 = body.Text("signedSha256"),
        Earlier = body.TryGetProperty("earlier", out _) ? body.List("earlier", Read) : [],
    };

    /// <summary>What was recorded, without the braces and without what came to be known since.</summary>
    public void WriteFields(Utf8JsonWriter json)
    {
        json.Text("review", Review);
        json.Text("machine", Machine);
        json.Text("setup", Setup);
        json.Text("by", By);
        json.Text("person", Person);
        json.Text("role", Role);
        json.Text("verdict", Word.Of(Verdict));
        json.Text("reason", Reason);
        json.Text("cause", Cause);
        json.Time("at", AtUtc);
        json.Text("atLocal", AtLocal);
        json.Flag("signed", Signed);
        json.Text("words", Words);
        json.Text("signedSha256", SignedSha256);
    }
}
