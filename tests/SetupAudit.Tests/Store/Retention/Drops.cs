using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Retention;

/// <summary>Orders to drop bytes, with a line at Monday and a state that says nothing.</summary>
internal static class Drops
{
    public static PruneOrder Of(IEnumerable<string> sha256s, int number = 1)
    {
        var state = Bytes($"a state {number}");
        return new PruneOrder
        {
            Id = $"pruning-{number}",
            AtUtc = Monday.AddHours(2),
            BeforeUtc = Monday,
            Reason = "the policy says so",
            Account = "tester",
            Signatures = [new PruneSignature("person-1", "Ann Reed", "administrator", "", "", "")],
            SignIns = [],
            Lines =
            [
                (new PruneLine
                {
                    Machine = "mill-3",
                    FromUtc = Monday.AddSeconds(-1),
                    FloorUtc = Monday.AddSeconds(-1),
                    Arrivals = 2,
                    Reads = "{}",
                    StateSha256 = Hash(state),
                }, state),
            ],
            Sha256s = Sha256Set.Of(sha256s),
            SizeBytes = 3,
        };
    }
}
