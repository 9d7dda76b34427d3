using System.Globalization;
using SetupAudit.Setups;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.People;

/// <summary>Makes the act of a review: of the setup as it stands, signed where name and password fitted.</summary>
public static class ReviewActs
{
    public static async Task<Act> OfAsync(StoreReader store, StoredDerived head, ReviewGiven given, SignedIn? by,
        ShopClock clock, DateTimeOffset nowUtc, CancellationToken token)
    {
        var setup = ShapeBody.Read<SetupView>(head.Body);
        var review = new Review
        {
            Id = Inbox.NewId(nowUtc),
            Machine = setup.Machine,
            Setup = setup.Setup,
            Pallet = setup.Pallet,
            OpenedUtc = setup.OpenedUtc,
            AtUtc = nowUtc,
            AtLocal = clock.InShop(nowUtc).ToString("yyyy-MM-dd'T'HH:mm:sszzz", CultureInfo.InvariantCulture),
            Verdict = given.Verdict,
            Reason = given.Reason.Normalize(System.Text.NormalizationForm.FormC).Trim(),
            Cause = given.Cause,
            By = by?.Person?.Name ?? PersonName.Normal(given.By),
            Person = by?.Person?.Person,
            Role = by?.Person?.Role,
            Basis = setup.Basis,
            RowsSha256 = await SetupDigest.OfAsync(store, head, token),
            Origin = await store.OriginAsync(token),
        };
        return new Act
        {
            Id = review.Id,
            Kind = ActKind.Review,
            Review = by is { Key: { } key, Person: { } person } ? Signed(review, key, person) : review,
            SignIn = by?.Given,
        };
    }

    private static Review Signed(Review review, PersonKey key, StoredPerson person)
    {
        var text = SignedText.Of(review);
        return review with
        {
            SignedSha256 = SignedText.Digest(text),
            Signature = Convert.ToBase64String(key.Sign(text)),
            Key = Convert.ToBase64String(person.CheckKey),
        };
    }
}
