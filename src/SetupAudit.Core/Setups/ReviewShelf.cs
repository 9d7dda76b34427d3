namespace SetupAudit.Setups;

/// <summary>Every review of the shop. An input of the fold beside the evidence: none is ever taken away.</summary>
public sealed class ReviewShelf
{
    private readonly Dictionary<string, List<Review>> _byMachine = new(StringComparer.Ordinal);
    private readonly HashSet<string> _ids = new(StringComparer.Ordinal);
    private readonly List<Review> _inOrder = [];

    /// <summary>One that is on the shelf already is no error.</summary>
    public void Add(Review review)
    {
        if (!_ids.Add(review.Id)) return;
        if (!_byMachine.TryGetValue(review.Machine, out var ofMachine))
            _byMachine[review.Machine] = ofMachine = [];
        Insert(ofMachine, review);
        Insert(_inOrder, review);
    }

    /// <summary>The reviews of the setup that was open from one moment until another, the newest last.</summary>
    /// <param name="untilUtc">When the pallet's next setup opened; null while none has.</param>
    public IReadOnlyList<Review> Of(
        string machine, string? pallet, DateTimeOffset openedUtc, DateTimeOffset? untilUtc) =>
        !_byMachine.TryGetValue(machine, out var ofMachine)
            ? []
            : [.. ofMachine.Where(review => review.Pallet == pallet && review.OpenedUtc >= openedUtc
                && !(review.OpenedUtc >= untilUtc))];

    /// <summary>
    /// How often each cause was given by a moment, in any machine's reviews. Of several reviews of one setup the newest
    /// counts, also where it gives none.
    /// </summary>
    public IReadOnlyDictionary<string, int> CauseCounts(DateTimeOffset untilUtc)
    {
        if (_inOrder.Count == 0 || _inOrder[0].AtUtc > untilUtc) return new Dictionary<string, int>();
        return _inOrder.TakeWhile(review => review.AtUtc <= untilUtc)
            .GroupBy(review => (review.Machine, review.Pallet, review.OpenedUtc)).Select(group => group.Last().Cause)
            .OfType<string>().GroupBy(cause => cause, StringComparer.Ordinal)
            .ToDictionary(group => group.Key, group => group.Count(), StringComparer.Ordinal);
    }

    private static void Insert(List<Review> reviews, Review review)
    {
        var at = reviews.Count;
        while (at > 0 && Later(reviews[at - 1], review)) at--;
        reviews.Insert(at, review);
    }

    private static bool Later(Review left, Review right)
    {
        var order = left.AtUtc.CompareTo(right.AtUtc);
        return order > 0 || (order == 0 && string.CompareOrdinal(left.Id, right.Id) > 0);
    }
}
