using SetupAudit.Setups;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.People;

/// <summary>Whether a review can be kept: of a setup as it stands now, and signed by whom it says.</summary>
internal sealed class ReviewCheck(StoreReader store, ShopConfig shop)
{
    public const int LongestReason = 4000;

    // Two clocks of one computer are one clock; a little is left for one that is put right meanwhile.
    private static readonly TimeSpan Ahead = TimeSpan.FromMinutes(1);

    public async Task<ActVerdict> LookAsync(Act act, DateTimeOffset nowUtc, CancellationToken token)
    {
        if (act.Review is not { } review || review.Id != act.Id || act.Person is not null)
            return ActVerdict.Refused("The review is not whole.");
        // Taken in before, and the answer was lost: it is answered again.
        if ((await store.ReviewsAsync(token)).Any(kept => kept.Id == review.Id)) return ActVerdict.Fine;
        if (Fault(review, shop) is { } fault) return ActVerdict.Refused(fault);
        if (await store.Prunings.LineAsync(review.Machine, token) is { } line && review.OpenedUtc < line.FloorUtc)
            return ActVerdict.Refused($"The evidence that {review.Setup} rests on was dropped, so it stands as it was; "
                + "a review of it can no longer be shown with it.");
        if (review.AtUtc > nowUtc + Ahead)
            return ActVerdict.Refused("The review says that it was made later than now.");
        if (review.Origin != await store.OriginAsync(token))
            return ActVerdict.Refused("The review was made for another record.");
        if (await SignatureFaultAsync(act, review, token) is { } unsigned) return ActVerdict.Refused(unsigned);
        if (!review.IsSigned && await SignedAsync(review, token) is { } signed)
            return ActVerdict.Refused($"{signed} signed a review of {review.Setup}, and only a signed review takes the "
                + "place of a signed one. Sign it: give --password-file, or type the password.");
        return await IsAsItStandsAsync(review, token) ? ActVerdict.Fine : ActVerdict.Changed;
    }

    /// <summary>What is wrong with the words of a review, as a sentence; null where nothing is.</summary>
    public static string? Fault(Review review, ShopConfig shop)
    {
        if (PersonName.Fault(review.By) is { } name) return name;
        if (shop.Machines.All(machine => machine.Name != review.Machine))
            return $"The configuration names no machine {review.Machine}.";
        if (review.Reason.Trim().Length == 0) return "A review needs a reason.";
        if (review.Reason.Length > LongestReason) return $"The reason is longer than {LongestReason} letters.";
        if (!PersonName.IsWellFormed(review.Reason)) return "The reason holds characters that are not Unicode text.";
        if (review.Cause is { } cause && !CauseNames.All.Contains(cause))
            return $"'{cause}' is no cause; allowed are {string.Join(", ", CauseNames.All)}.";
        return null;
    }

    private async Task<string?> SignatureFaultAsync(Act act, Review review, CancellationToken token)
    {
        if (review.Person is null)
            return review.Signature is null && review.Role is null && act.SignIn is null
                ? null
                : "A review that nobody signed carries a signature.";
        var person = (await PeopleList.ReadAsync(store, token)).Find(review.Person);
        if (person is null || person.Name != review.By || person.Role != review.Role)
            return "The review is signed by nobody who is known.";
        if (person.Locked) return $"{person.Name} is locked and can sign nothing.";
        var tries = await store.SignInsAsync(person.Person, SignInDelay.TriesLookedAt, token);
        if (SignInDelay.Until(tries) > review.AtUtc) return $"{person.Name} has to wait after wrong passwords.";
        var text = SignedText.Of(review);
        return act.SignIn is { Outcome: SignInOutcome.Right } given && given.Person == person.Person
            && review.Key == Convert.ToBase64String(person.CheckKey)
            && review.SignedSha256 == SignedText.Digest(text)
            && PersonKey.Signed(text, Bytes(review.Signature), person.CheckKey)
            ? null
            : "The signature does not fit the review.";
    }

    // Who signed a review that the setup shows, or one that was kept a moment ago and is not derived yet; else null.
    private async Task<string?> SignedAsync(Review review, CancellationToken token)
    {
        var heads = await store.BeginningAsync(DerivedKind.Setup, review.Setup, 2, token);
        var shown = heads.FirstOrDefault(row => row.Id == review.Setup) is { } head
            ? ShapeBody.Read<SetupView>(head.Body).Review
            : null;
        return shown?.Earlier.Append(shown).LastOrDefault(view => view.Signed)?.By
            ?? (await store.ReviewsAsync(token)).LastOrDefault(kept => kept.IsSigned && kept.Machine == review.Machine
                && kept.Pallet == review.Pallet && kept.OpenedUtc == review.OpenedUtc)?.By;
    }

    private async Task<bool> IsAsItStandsAsync(Review review, CancellationToken token)
    {
        var heads = await store.BeginningAsync(DerivedKind.Setup, review.Setup, 2, token);
        if (heads.FirstOrDefault(row => row.Id == review.Setup) is not { } head) return false;
        var setup = ShapeBody.Read<SetupView>(head.Body);
        return setup.Machine == review.Machine && setup.Pallet == review.Pallet
            && setup.OpenedUtc == review.OpenedUtc && setup.Basis.Mark == review.Basis.Mark
            && setup.Basis.Grave.SequenceEqual(review.Basis.Grave, StringComparer.Ordinal)
            && await SetupDigest.OfAsync(store, head, token) == review.RowsSha256;
    }

    internal static byte[] Bytes(string? base64)
    {
        var bytes = new byte[96];
        return base64 is not null && Convert.TryFromBase64String(base64, bytes, out var written)
            ? bytes[..written]
            : [];
    }
}
