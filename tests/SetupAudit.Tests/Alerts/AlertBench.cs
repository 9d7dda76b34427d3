using System.Security.Cryptography;
using System.Text;
using Microsoft.Data.Sqlite;
using SetupAudit.Auditing;
using SetupAudit.Shares;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Support;

namespace SetupAudit.Alerts;

/// <summary>
/// A made-up machine with a limit on Z, on a real folder with a real store: each dump that moves Z of G54 by more than
/// 1 mm is a finding. Its messages go to a receiver in this process.
/// </summary>
internal sealed class AlertBench : IDisposable
{
    private readonly TempShare _share = new();
    private int _dumps;

    public AlertBench()
    {
        Directory.CreateDirectory(_share["offsets"]);
        Directory.CreateDirectory(_share["offsets-4"]);
    }

    public static CancellationToken Token => TestContext.Current.CancellationToken;

    public HandClock Clock { get; } = new("2026-03-02T07:00:00Z");

    public HandChannel Channel { get; } = new();

    public List<IAlertChannel> Channels { get; } = [];

    /// <summary>The keys of Alerts; null where the configuration has none.</summary>
    public string? Alerts { get; set; } = "\"Severity\": \"high\"";

    public string Limits { get; set; } = "[ { \"Register\": \"G54\", \"Axis\": \"Z\", \"Change\": 1 } ]";

    public string Rules { get; set; } = "\"axis-not-set\": \"off\"";

    public string StoreFolder => _share["audit"];

    public string Configuration => $$"""
        {
          "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Europe/London" },
          "Store": { "Folder": "audit" },
          "Machines": {
            "mill-3": { "Kind": "mill", "Units": "mm",
              "Watch": [ { "Folder": "offsets", "Files": "*.nc", "Read": "data-setting" } ] },
            "mill-4": { "Kind": "mill", "Units": "mm",
              "Watch": [ { "Folder": "offsets-4", "Files": "*.nc", "Read": "data-setting" } ] }
          },
          "Rules": { {{Rules}} },
          "Limits": {{Limits}}{{(Alerts is null ? "" : $", \"Alerts\": {{ {Alerts} }}")}}
        }
        """;

    public AuditOptions Options()
    {
        var bytes = Encoding.UTF8.GetBytes(Configuration);
        var result = ShopConfigReader.Read(bytes, _share.Folder);
        Assert.Empty(result.Faults);
        return new AuditOptions
        {
            Shop = result.Config ?? throw new InvalidOperationException("no configuration"),
            ConfigurationSha256 = Convert.ToHexStringLower(SHA256.HashData(bytes)),
            ProgramVersion = "1.0",
            Command = "once",
            Channels = (_, _) => [Channel, .. Channels],
        };
    }

    /// <summary>A dump that shows Z of G54, written a minute ago.</summary>
    public void Dump(decimal z, string folder = "offsets") => Dump(z, Clock.GetUtcNow().AddMinutes(-1), folder);

    public void Dump(decimal z, DateTimeOffset modified, string folder = "offsets") =>
        Write(FormattableString.Invariant($"{folder}/{++_dumps:000000}.nc"), Text(z), modified);

    /// <summary>A dump under a name of its own; one that is there already is written again.</summary>
    public void Dump(string name, decimal z, DateTimeOffset modified) => Write($"offsets/{name}.nc", Text(z), modified);

    private static string Text(decimal z) => FormattableString.Invariant($"%\nG10 L2 P1 X-400.000 Y-200.000 Z{z:0.000}\n%\n");

    public void Write(string name, string text, DateTimeOffset modified) => _share.Write(name, text, modified.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", System.Globalization.CultureInfo.InvariantCulture));

    public void Delete(string name) => _share.Delete(name);

    /// <summary>The configuration as a file, for commands.</summary>
    public string ConfigFile()
    {
        _share.Write("shop.json", Configuration);
        return _share["shop.json"];
    }

    /// <summary>Sends what is to be sent, without an audit.</summary>
    public async Task<SendCount> SendOnceAsync()
    {
        var options = Options();
        await using var store = await AuditStore.OpenAsync(StoreFolder, RecordOptions.Of(options.Shop), Clock, Token);
        return await new AlertRun(options, store, Clock).OnceAsync(Token);
    }

    public Task<AuditSummary> OnceAsync() => OnceUntilAsync(Token);

    public Task<AuditSummary> OnceUntilAsync(CancellationToken token) =>
        new Auditor(Options(), new LocalFiles(), Clock).OnceAsync(token);

    /// <summary>The machine's history is known, and 10 minutes went by.</summary>
    public async Task BeginAsync()
    {
        Dump(-300m);
        Dump(-300m, "offsets-4");
        await OnceAsync();
        Pass(10);
    }

    public void Pass(double minutes) => Clock.Advance(TimeSpan.FromMinutes(minutes));

    public async Task<StoreReader> ReaderAsync() => await StoreReader.OpenAsync(StoreFolder, Token);

    /// <summary>What became of everything that alerts looked at, a line each.</summary>
    public async Task<List<string>> LinesAsync()
    {
        using var reader = await ReaderAsync();
        var lines = new List<string>();
        var query = new DerivedQuery { Kind = DerivedKind.Finding };
        await foreach (var alert in reader.Outbox.AlertsAsync(query, Token))
        {
            var told = (await reader.Outbox.ToldAsync([alert.Seq], Token)).SingleOrDefault();
            var words = told?.Message is { } message ? await reader.Outbox.SendingsAsync([message], Token) : [];
            var became = alert.WhyNot ?? told?.WhyNot ?? string.Join(", ", words.Select(word => word.Outcome));
            lines.Add($"{alert.Finding} {alert.Step}: {became}");
        }
        return lines;
    }

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        _share.Dispose();
    }
}
