using System.Runtime.CompilerServices;
using SetupAudit.Setups;
using SetupAudit.Shapes;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>Every review, oldest first, with the setup that shows it now.</summary>
internal sealed class ReviewList(ListRequest request, StoreReader store)
{
    public async IAsyncEnumerable<ListRow> RowsAsync([EnumeratorCancellation] CancellationToken token)
    {
        var shown = await ShownAsync(token);
        foreach (var review in (await store.ReviewsAsync(token)).Where(IsAskedFor))
        {
            var line = new ReviewLine(ReviewView.Of(review));
            if (shown.TryGetValue(review.Id, out var place))
                line = line with { ShownOn = place.Setup, Doubt = place.Doubt, Superseded = place.Superseded };
            yield return new ListRow(ShapeBody.Of(line), null);
        }
    }

    private bool IsAskedFor(Review review) => (request.Machine is null || review.Machine == request.Machine)
        && !(review.AtUtc < request.SinceUtc) && !(review.AtUtc > request.UntilUtc);

    private async Task<Dictionary<string, (string Setup, string? Doubt, bool Superseded)>> ShownAsync(
        CancellationToken token)
    {
        var shown = new Dictionary<string, (string, string?, bool)>(StringComparer.Ordinal);
        var query = new DerivedQuery { Kind = DerivedKind.Setup, Machine = request.Machine };
        await foreach (var row in store.DerivedAsync(query, token))
        {
            if (ShapeBody.Read<SetupView>(row.Body).Review is not { } newest) continue;
            shown[newest.Review] = (row.Id, newest.Doubt, false);
            foreach (var earlier in newest.Earlier) shown[earlier.Review] = (row.Id, null, true);
        }
        return shown;
    }
}
