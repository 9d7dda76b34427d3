using System.Security.Cryptography;
using System.Text;
using Microsoft.Data.Sqlite;
using SetupAudit.People;
using SetupAudit.Setups;
using SetupAudit.Shapes;
using SetupAudit.Shares;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Support;

namespace SetupAudit.Auditing;

/// <summary>A made-up shop on real folders with a real store, and a clock that stands at one moment.</summary>
internal sealed class AuditBench : IDisposable
{
    public const string Configuration = """
        {
          "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Europe/London" },
          "Store": { "Folder": "audit" },
          "Machines": {
            "mill-3": { "Kind": "mill", "Units": "mm",
              "Watch": [
                { "Folder": "offsets", "Files": "*.nc", "Read": "data-setting" },
                { "Folder": "prints", "Files": "*.log", "Read": "print-out", "Lines": "prints" },
                { "Folder": "programs", "Files": "*.nc", "Read": "program" },
                { "Folder": "load", "Files": "*.nc", "Read": "data-setting", "Is": "to-load" } ] },
            "mill-4": { "Kind": "mill", "Units": "mm",
              "Watch": [ { "Folder": "offsets-4", "Files": "*.nc", "Read": "data-setting" } ] }
          },
          "PrintOuts": { "prints": { "Time": "yyyy-MM-dd HH:mm:ss", "Lines": [
            { "Match": "^(?<time>[-0-9]+ [:0-9]+) START (?<program>O\\d+)", "Means": "cycle-start" },
            { "Match": "^(?<time>[-0-9]+ [:0-9]+) END (?<program>O\\d+)", "Means": "cycle-end" },
            { "Match": "^(?<time>[-0-9]+ [:0-9]+) SET (?<register>G5\\d) (?<axis>[XYZ]) (?<value>\\S+)", "Means": "datum-set" },
            { "Match": "^(?<time>[-0-9]+ [:0-9]+) SIZE (?<feature>\\S+) (?<size>\\S+)", "Means": "measured" } ] } },
          "Sheets": { "Folder": "sheets" }
        }
        """;

    private readonly TempShare _share = new();

    public AuditBench()
    {
        foreach (var folder in new[] { "offsets", "prints", "programs", "load", "offsets-4", "sheets" })
            Directory.CreateDirectory(_share[folder]);
    }

    /// <summary>When the audit looks; every file is older.</summary>
    public DateTimeOffset Now { get; set; } = new(2026, 3, 20, 12, 0, 0, TimeSpan.Zero);

    public string Config { get; set; } = Configuration;

    public string Version { get; set; } = "1.0";

    public FoldLimits Limits { get; set; } = new();

    public static CancellationToken Token => TestContext.Current.CancellationToken;

    public string Folder => _share.Folder;

    public string StoreFolder => _share["audit"];

    public void Write(string name, string text, string modified) => _share.Write(name, text, modified);

    public void Append(string name, string text, string modified) => _share.Append(name, text, modified);

    public void Delete(string name) => _share.Delete(name);

    /// <summary>A dump of G54 X, Y and Z.</summary>
    public static string Dump(decimal x, decimal y, decimal z) => FormattableString.Invariant(
        $"%\nG10 L2 P1 X{x:0.000} Y{y:0.000} Z{z:0.000}\nG10 L2 P2 X-100.000 Y-100.000 Z-100.000\n%\n");

    public AuditOptions Options()
    {
        var bytes = Encoding.UTF8.GetBytes(Config);
        var result = ShopConfigReader.Read(bytes, _share.Folder);
        Assert.Empty(result.Faults);
        return new AuditOptions
        {
            Shop = result.Config ?? throw new InvalidOperationException("no configuration"),
            ConfigurationSha256 = Convert.ToHexStringLower(SHA256.HashData(bytes)),
            ProgramVersion = Version,
            Command = "once",
            Limits = Limits,
        };
    }

    public Auditor Auditor() => new(Options(), new LocalFiles(), new StandingTime(Now));

    public Task<AuditSummary> OnceAsync() => Auditor().OnceAsync(Token);

    public Task<RebuildReport> RebuildAsync() => new Rebuilder(Options(), new StandingTime(Now)).RunAsync(Token);

    public async Task<List<StoredDerived>> RowsAsync(DerivedKind kind, string? machine = null, bool withdrawn = false)
    {
        using var reader = await StoreReader.OpenAsync(StoreFolder, Token);
        var rows = new List<StoredDerived>();
        var query = new DerivedQuery { Kind = kind, Machine = machine, Withdrawn = withdrawn };
        await foreach (var row in reader.DerivedAsync(query, Token)) rows.Add(row);
        return rows;
    }

    /// <summary>A review of a setup as it stands, by a name that nobody proved.</summary>
    public static Review Review(SetupView setup, DateTimeOffset atUtc) => new()
    {
        Id = Inbox.NewId(atUtc),
        Machine = setup.Machine,
        Setup = setup.Setup,
        Pallet = setup.Pallet,
        OpenedUtc = setup.OpenedUtc,
        AtUtc = atUtc,
        AtLocal = "",
        Verdict = ReviewVerdict.Accepted,
        Reason = "measured",
        By = "Ann Reed",
        Basis = setup.Basis,
        RowsSha256 = "",
    };

    /// <summary>Keeps reviews as the process that holds the store does, and derives nothing.</summary>
    public async Task KeepAsync(IReadOnlyList<Review> reviews)
    {
        await using var store = await AuditStore.OpenAsync(StoreFolder, new RecordOptions(), TimeProvider.System, Token);
        foreach (var review in reviews)
            await store.PutPeopleAsync(new PeopleBatch
            {
                Reviews = [review],
                Dirty = ActTaker.Marks(review, Options().Shop),
            }, Token);
    }

    /// <summary>Every derived row but those of arrivals, which tell when they were received.</summary>
    public async Task<List<string>> DerivedAsync()
    {
        var all = new List<string>();
        foreach (var kind in Enum.GetValues<DerivedKind>().Where(kind => kind != DerivedKind.Arrival))
            all.AddRange((await RowsAsync(kind)).Select(row => $"{row.Kind} {row.Machine} {row.Id} {row.Setup} {row.Body}"));
        return all;
    }

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        _share.Dispose();
    }

    private sealed class StandingTime(DateTimeOffset now) : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => now;
    }
}
