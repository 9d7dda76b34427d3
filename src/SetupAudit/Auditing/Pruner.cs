using SetupAudit.People;
using SetupAudit.Store;
using SetupAudit.Store.Retention;

namespace SetupAudit.Auditing;

/// <summary>
/// Drops evidence before a moment, signed by those who decide it. Everything that was taken in is read and derived
/// first, so that what is kept of it holds; while another process holds the store nothing is done.
/// </summary>
public sealed class Pruner(AuditOptions options, TimeProvider clock)
{
    /// <summary>Called with the store, for tests that stop in the middle.</summary>
    internal Action<AuditStore>? OnOpened { get; set; }

    /// <summary>What would go, as the record stands. Nothing is written.</summary>
    public async Task<PrunePlan> PlanAsync(DateTimeOffset beforeUtc, CancellationToken token)
    {
        using var store = await StoreReader.OpenAsync(options.Shop.Store, token);
        return await new PrunePlanner(options.Shop, store).PlanAsync(beforeUtc, token);
    }

    /// <summary>Drops what the plan says; where it names nothing, nothing is done.</summary>
    public async Task<PrunePlan> RunAsync(
        DateTimeOffset beforeUtc, string reason, string account, IReadOnlyList<SignedIn> signers,
        CancellationToken token)
    {
        // Before anything is opened for writing: a folder without a record gets none by this.
        using (await StoreReader.OpenAsync(options.Shop.Store, token))
        {
        }
        var store = await AuditStore.OpenAsync(
            options.Shop.Store, RecordOptions.Of(options.Shop), clock, token);
        OnOpened?.Invoke(store);
        await using var session = await AuditSession.OpenAsync(options, store, clock, token);
        await session.ReadSheetsAsync(token);
        foreach (var machine in session.Machines) await session.DeriveAgainAsync(machine, token);
        var plan = await new PrunePlanner(options.Shop, store.Reader).PlanAsync(beforeUtc, token);
        if (plan.Sha256s.Count > 0)
        {
            await RequireKnownAsync(store.Reader, signers, token);
            var origin = await store.Reader.OriginAsync(token);
            await store.PruneAsync(Signed(Order(plan, reason, account), origin, signers), token);
        }
        await session.StopAsync();
        return plan;
    }

    // They proved their names before the store was held.
    private static async Task RequireKnownAsync(
        StoreReader store, IReadOnlyList<SignedIn> signers, CancellationToken token)
    {
        var people = await PeopleList.ReadAsync(store, token);
        foreach (var signer in signers)
            if (signer.Person is not { } person || people.Find(person.Person) is not { Locked: false } known
                || !known.CheckKey.SequenceEqual(person.CheckKey))
                throw new StoreException(StoreFaultKind.Final,
                    $"{signer.Person?.Name} can sign no more; nothing was dropped.");
    }

    private PruneOrder Order(PrunePlan plan, string reason, string account)
    {
        var nowUtc = clock.GetUtcNow();
        return new PruneOrder
        {
            Id = Inbox.NewId(nowUtc),
            AtUtc = nowUtc,
            BeforeUtc = plan.BeforeUtc,
            Reason = reason,
            Account = account,
            Signatures = [],
            SignIns = [],
            Lines = plan.Lines,
            Sha256s = plan.Sha256s,
            SizeBytes = plan.SizeBytes,
        };
    }

    private static PruneOrder Signed(PruneOrder order, string? origin, IReadOnlyList<SignedIn> signers) => order with
    {
        Signatures = [.. signers.Select(signer => Signature(order, origin, signer))],
        SignIns = [.. signers.Select(signer => signer.Given).OfType<StoredSignIn>()],
    };

    private static PruneSignature Signature(PruneOrder order, string? origin, SignedIn signer)
    {
        if (signer is not { Person: { } person, Key: { } key })
            throw new ArgumentException("nobody signed in", nameof(signer));
        var text = SignedText.Of(order, origin, person);
        return new PruneSignature(person.Person, person.Name, person.Role, Convert.ToBase64String(person.CheckKey),
            SignedText.Digest(text), Convert.ToBase64String(key.Sign(text)));
    }
}
