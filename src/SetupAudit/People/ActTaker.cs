using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.People;

/// <summary>
/// Takes acts in, in the process that holds the store: checks each against what is kept, writes it in one transaction,
/// and says what became of it. An act that was taken in already is answered again and not kept again.
/// </summary>
public sealed class ActTaker(AuditStore store, ReviewShelf shelf, ShopConfig shop, TimeProvider clock)
{
    private readonly ReviewCheck _reviews = new(store.Reader, shop);
    private readonly PersonCheck _people = new(store.Reader);

    public async Task<ActAnswer> TakeAsync(Act act, CancellationToken token)
    {
        var verdict = act.Kind == ActKind.Review
            ? await _reviews.LookAsync(act, clock.GetUtcNow(), token)
            : await _people.LookAsync(act, token);
        if (verdict.Outcome != ActOutcome.Done) return new ActAnswer(act.Id, verdict.Outcome, verdict.Says);
        await store.PutPeopleAsync(new PeopleBatch
        {
            People = act.Person is { } person ? [person] : [],
            SignIns = act.SignIn is { } given ? [given] : [],
            Reviews = act.Review is { } review ? [review] : [],
            Dirty = act.Review is { } reviewed ? Marks(reviewed, shop) : new Dictionary<string, DirtyMark>(),
        }, token);
        if (act.Review is { } kept) shelf.Add(kept);
        return new ActAnswer(act.Id, ActOutcome.Done, "");
    }

    // The setup shows it, and those that opened since it was recorded learn from it; a cause teaches every machine.
    internal static Dictionary<string, DirtyMark> Marks(Review review, ShopConfig shop)
    {
        var dirty = new Dictionary<string, DirtyMark>(StringComparer.Ordinal);
        if (review.Cause is not null)
            foreach (var machine in shop.Machines)
                dirty[machine.Name] = new DirtyMark(SightingPosition.Before(review.AtUtc), ByLookUp: false);
        dirty[review.Machine] = new DirtyMark(SightingPosition.Before(
            review.OpenedUtc < review.AtUtc ? review.OpenedUtc : review.AtUtc), ByLookUp: false);
        return dirty;
    }
}
