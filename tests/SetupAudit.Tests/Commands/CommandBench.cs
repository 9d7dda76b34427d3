using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Microsoft.Data.Sqlite;
using SetupAudit.Evidence;
using SetupAudit.Reports;
using SetupAudit.Shapes;
using SetupAudit.Store;
using SetupAudit.Support;

namespace SetupAudit.Commands;

/// <summary>A made-up shop with a configuration, a store filled by hand, and the command line run in this process.</summary>
internal sealed class CommandBench : IDisposable
{
    public const string Dump = "%\nO9000\n(dump)\nG10 L2 P1 X-412.250 Y-203.118 Z-310.450\n%\n";
    private readonly TempShare _share = new();

    public CommandBench() => _share.Write("shop.json", """
        {
          "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Europe/London" },
          "Store": { "Folder": "audit" },
          "Machines": {
            "mill-3": { "Kind": "mill", "Units": "mm",
              "Travel": { "X": [-800, 0], "Y": [-450, 0], "Z": [-520, 0] },
              "Watch": [ { "Folder": "offsets", "Files": "*.nc", "Read": "data-setting" } ] },
            "mill-4": { "Kind": "mill", "Units": "inch",
              "Watch": [ { "Folder": "offsets-4", "Files": "*.nc", "Read": "data-setting" } ] }
          }
        }
        """);

    public static CancellationToken Token => TestContext.Current.CancellationToken;

    public string this[string name] => _share[name];

    public string Config => _share["shop.json"];

    public void Write(string name, string text) => _share.Write(name, text);

    /// <summary>Runs a command with this shop's configuration.</summary>
    public Task<(int Status, string Out, string Errors)> RunAsync(params IReadOnlyList<string> arguments) =>
        RunAloneAsync([.. arguments, "--config", Config]);

    public static async Task<(int Status, string Out, string Errors)> RunAloneAsync(params IReadOnlyList<string> arguments)
    {
        using var written = new StringWriter(CultureInfo.InvariantCulture);
        using var errors = new StringWriter(CultureInfo.InvariantCulture);
        var status = await CommandLine.RunAsync(arguments, new Terminal { Out = written, Errors = errors }, Token);
        return (status, written.ToString(), errors.ToString());
    }

    /// <summary>Keeps the made-up setup of the report's tests, its dump as evidence, and whatever else is given.</summary>
    public async Task FillAsync(params DerivedRow[] more)
    {
        var bytes = Encoding.UTF8.GetBytes(Dump);
        var sha256 = Convert.ToHexStringLower(SHA256.HashData(bytes));
        var arrival = new Arrival
        {
            Machine = "mill-3",
            Source = 0,
            File = "shares/mill-3/offsets/0714.nc",
            Sha256 = sha256,
            SizeBytes = bytes.Length,
            ModifiedUtc = MadeUp.Opened.AddMinutes(4),
            MomentUtc = MadeUp.Opened.AddMinutes(4),
            ReceivedUtc = MadeUp.Opened.AddMinutes(5),
        };
        await using var store = await AuditStore.OpenAsync(_share["audit"], new RecordOptions(), TimeProvider.System, Token);
        await store.TakeInAsync(
            new TakeInBatch { Arrivals = [new TakenArrival { Arrival = arrival, Bytes = bytes }] }, Token);
        await store.PutReadAsync(new ReadBatch
        {
            Machine = "mill-3",
            Arrivals = await store.Reader.UnreadAsync("mill-3", 1, Token),
            Rows = [RowOf(arrival)],
        }, Token);
        await store.ReplaceDerivedAsync(Batch([.. Rows(sha256), .. more]), Token);
    }

    /// <summary>Derives again without these ids, so that they are withdrawn.</summary>
    public async Task WithdrawAsync(params string[] ids)
    {
        await using var store = await AuditStore.OpenAsync(_share["audit"], new RecordOptions(), TimeProvider.System, Token);
        var sha256 = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(Dump)));
        await store.ReplaceDerivedAsync(Batch([.. Rows(sha256).Where(row => !ids.Contains(row.Id))]), Token);
    }

    public static DerivedRow Row(DerivedKind kind, string id, DateTimeOffset at, IShape shape, string? setup = MadeUp.Setup) => new()
    {
        Kind = kind,
        Id = id,
        ScopeUtc = MadeUp.Opened,
        AtUtc = at,
        Setup = kind == DerivedKind.Setup ? null : setup,
        Body = ShapeBody.Of(shape),
    };

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        _share.Dispose();
    }

    private static DerivedBatch Batch(IReadOnlyList<DerivedRow> rows) => new()
    {
        Machine = "mill-3",
        ScopeFromUtc = MadeUp.Opened,
        Rows = rows,
        Kinds = Enum.GetValues<DerivedKind>().Where(kind => kind != DerivedKind.Arrival).ToHashSet(),
        WithdrawnBecause = "a later touch agreed",
        HorizonUtc = MadeUp.Opened.AddHours(1),
    };

    private static DerivedRow RowOf(Arrival arrival) => Row(
        DerivedKind.Arrival, arrival.Id, arrival.MomentUtc, ArrivalView.Of(arrival, ArrivalStatus.Read, null), null);

    private static IEnumerable<DerivedRow> Rows(string sha256)
    {
        var setup = MadeUp.Document();
        yield return Row(DerivedKind.Setup, setup.Head.Setup, setup.Head.OpenedUtc, setup.Head);
        foreach (var change in setup.Changes)
            yield return Row(DerivedKind.Change, change.Change, change.ToUtc, change with { Sha256 = sha256 });
        foreach (var finding in setup.Findings)
            yield return Row(DerivedKind.Finding, finding.Finding, finding.AtUtc, finding with
            {
                Evidence = [new SourceLine("shares/mill-3/offsets/0714.nc", sha256, 4)],
            });
        for (var index = 0; index < setup.Cycles.Count; index++)
            yield return Row(DerivedKind.Cycle, $"cycle-{index}", setup.Cycles[index].StartUtc, setup.Cycles[index]);
        for (var index = 0; index < setup.Measurements.Count; index++)
            yield return Row(DerivedKind.Measurement, $"measured-{index}", setup.Measurements[index].AtUtc, setup.Measurements[index]);
    }
}
