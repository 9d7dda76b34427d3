using System.Globalization;
using SetupAudit.People;
using SetupAudit.Store;
using SetupAudit.Store.Verifying;
using static SetupAudit.Auditing.AuditBench;

namespace SetupAudit.Auditing;

/// <summary>Drops evidence of a bench, signed by an administrator who is made for it.</summary>
internal static class Pruned
{
    // Made once: a password costs as much as it should.
    private static readonly Lazy<(StoredPerson Person, PersonKey Key)> Administrator = new(() =>
    {
        const string password = "seven quiet harbours";
        var given = new PersonGiven("Ann Reed", At("2026-03-01T00:00:00Z"), "added", null, "tester");
        var person = PersonActs.Add(given, PersonRole.Administrator, password).Person!;
        return (person, PersonKey.Derive(password, person.Salt, person.Passes, person.MemoryKib));
    });

    public static DateTimeOffset At(string moment) => DateTimeOffset.Parse(moment, CultureInfo.InvariantCulture);

    public static async Task<PrunePlan> PruneAsync(
        this AuditBench bench, string before, Action<AuditStore>? onOpened = null)
    {
        var signer = await SignerAsync(bench);
        var pruner = new Pruner(bench.Options(), new HandClock(bench.Now)) { OnOpened = onOpened };
        return await pruner.RunAsync(At(before), "kept for as long as the policy says", "tester", [signer], Token);
    }

    public static async Task<SignedIn> SignerAsync(AuditBench bench)
    {
        var (person, key) = Administrator.Value;
        await using (var store = await AuditStore.OpenAsync(
            bench.StoreFolder, new RecordOptions(), new HandClock(bench.Now), Token))
            await store.PutPeopleAsync(new PeopleBatch { People = [person] }, Token);
        return SignedIn.Proved(person, key, new StoredSignIn(
            Inbox.NewId(bench.Now), bench.Now, person.Person, SignInOutcome.Right, "prune", "tester"));
    }

    public static Task<RecordCheck> VerifyAsync(this AuditBench bench) =>
        StoreVerifier.RunAsync(new VerifyOptions { Folder = bench.StoreFolder, WithEvidence = true }, Token);

    /// <summary>How many bytes the segments have together.</summary>
    public static long EvidenceBytes(this AuditBench bench) =>
        Directory.EnumerateFiles(Path.Combine(bench.StoreFolder, "evidence")).Sum(path => new FileInfo(path).Length);

    private sealed class HandClock(DateTimeOffset now) : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => now;
    }
}
