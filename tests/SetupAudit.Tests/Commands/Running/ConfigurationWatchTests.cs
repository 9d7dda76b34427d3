using SetupAudit.Auditing;
using SetupAudit.Shares;
using SetupAudit.Support;

namespace SetupAudit.Commands.Running;

public sealed class ConfigurationWatchTests : IDisposable
{
    private const string Good = """
        {
          "Shop": { "Name": "made up", "TimeZone": "Europe/London" },
          "Store": { "Folder": "audit" },
          "Machines": { "mill-3": { "Kind": "mill", "Units": "mm",
            "Watch": [ { "Folder": "offsets", "Files": "*.nc", "Read": "data-setting" } ] } }
        }
        """;

    private readonly TempShare _folder = new();
    private readonly HandClock _clock = new();
    private readonly ConfigurationWatch _watch;
    private readonly string _first;

    public ConfigurationWatchTests()
    {
        var path = _folder.Write("shop.json", Good);
        var loaded = ConfigurationFile.Load(path);
        _first = loaded.Sha256;
        var auditor = new Auditor(new AuditOptions
        {
            Shop = loaded.Config ?? throw new InvalidOperationException("the configuration has faults"),
            ConfigurationSha256 = loaded.Sha256,
            ProgramVersion = "1.0",
            Command = "run",
        }, new LocalFiles(), _clock);
        _watch = new ConfigurationWatch(path, auditor, _clock);
    }

    public void Dispose()
    {
        _watch.Dispose();
        _folder.Dispose();
    }

    [Fact]
    public void A_change_takes_over_when_it_has_held_still_for_two_looks()
    {
        _folder.Write("shop.json", Good.Replace("made up", "made up again"));

        _watch.Look(isAsked: false);
        Assert.Equal(_first, _watch.State.Sha256);

        _watch.Look(isAsked: false);
        Assert.NotEqual(_first, _watch.State.Sha256);
        Assert.Null(_watch.State.RefusedUtc);
    }

    [Fact]
    public void Who_asks_is_not_kept_waiting()
    {
        _folder.Write("shop.json", Good.Replace("made up", "made up again"));

        _watch.Look(isAsked: true);

        Assert.NotEqual(_first, _watch.State.Sha256);
    }

    [Theory]
    [InlineData("\"Units\": \"mm\"", "\"Units\": \"metric\"", "shop.json:4:54 Machines.mill-3.Units: \"metric\" is not allowed; use mm or inch")]
    [InlineData("\"Watch\"", "\"Wacth\"", "shop.json:5:5 Machines.mill-3.Wacth: \"Wacth\" is not a key here; did you mean Watch?")]
    [InlineData("\"Units\": \"mm\"", "\"Like\": \"mill-9\", \"Units\": \"mm\"", "mill-9")]
    [InlineData("\"Machines\": {", "\"Machines\": ", "shop.json:")]
    [InlineData("\"Folder\": \"audit\"", "\"Folder\": \"audit-2\"", "another store needs a restart")]
    public void One_with_a_fault_is_refused_as_a_whole_and_says_where(string good, string bad, string told)
    {
        _folder.Write("shop.json", Good.Replace(good, bad));

        _watch.Look(isAsked: true);

        Assert.Equal(_first, _watch.State.Sha256);
        Assert.Equal(_clock.GetUtcNow(), _watch.State.RefusedUtc);
        Assert.True(_watch.State.Faults.Any(fault => fault.Contains(told, StringComparison.Ordinal)), string.Join("\n", _watch.State.Faults));
    }

    [Fact]
    public void Every_fault_is_told_in_one_go()
    {
        _folder.Write("shop.json", Good.Replace("\"Units\": \"mm\"", "\"Units\": \"metric\"").Replace("\"Watch\"", "\"Wacth\""));

        _watch.Look(isAsked: true);

        Assert.Equal(2, _watch.State.Faults.Count);
    }

    [Fact]
    public void A_file_that_is_gone_is_a_fault_like_any_other_and_its_return_ends_it()
    {
        _folder.Delete("shop.json");
        _watch.Look(isAsked: false);
        Assert.Null(_watch.State.RefusedUtc);
        _watch.Look(isAsked: false);
        Assert.Contains("is not there", Assert.Single(_watch.State.Faults));

        _folder.Write("shop.json", Good);
        _watch.Look(isAsked: false);

        Assert.Null(_watch.State.RefusedUtc);
        Assert.Empty(_watch.State.Faults);
        Assert.Equal(_first, _watch.State.Sha256);
    }
}
