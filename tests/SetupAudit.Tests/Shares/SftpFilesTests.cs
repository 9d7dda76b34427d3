using System.Text;
using SetupAudit.Shop;
using SetupAudit.Support;

namespace SetupAudit.Shares;

// Against a real sshd on the loopback address; the scan goes by a clock that the test moves.
public sealed class SftpFilesTests : IDisposable
{
    private const string Old = "2026-03-01T07:00:00Z";
    // A frozen server is waited for in earnest; any other answers, however busy the computer is.
    private static readonly TimeSpan Impatient = TimeSpan.FromSeconds(4);
    private static readonly TimeSpan Patient = TimeSpan.FromMinutes(1);

    private readonly OwnSshServer _server = new();
    private readonly HandClock _clock = new();
    private readonly List<FoundFile> _found = [];
    private readonly List<string> _texts = [];
    private SftpFiles? _files;
    private FolderScan? _scan;

    public void Dispose()
    {
        _files?.Dispose();
        _server.Dispose();
    }

    [Fact]
    public void Dumps_come_with_their_bytes_times_and_names_and_links_are_not_followed()
    {
        var large = new byte[3 * 1024 * 1024];
        Array.Fill(large, (byte)'N');
        _server.Home.Write("share/a.nc", "G10 L2 P1 X-1.\n", Old);
        _server.Home.Write("share/deep/b.nc", large, Old);
        _server.Home.Write("elsewhere/secret.nc", "G10 L2 P1 X-9.\n", Old);
        File.CreateSymbolicLink(_server.Home["share/link.nc"], _server.Home["elsewhere/secret.nc"]);
        Directory.CreateSymbolicLink(_server.Home["share/links"], _server.Home["elsewhere"]);

        var report = Scan(_server.Config, "**/*.nc");

        Assert.True(report.Clean, report.Fault);
        Assert.Equal(["a.nc", "deep/b.nc", "link.nc"], _found.Select(found => found.Name).Order());
        var a = _found.Single(found => found.Name == "a.nc");
        Assert.Equal("G10 L2 P1 X-1.\n", TextOf(a));
        Assert.Equal(DateTimeOffset.Parse(Old, null), a.ModifiedUtc);
        Assert.Equal(large.Length, _found.Single(found => found.Name == "deep/b.nc").SizeBytes);
        Assert.Equal("a link, not followed", _found.Single(found => found.Name == "link.nc").Refused);
    }

    [Fact]
    public void A_link_put_in_a_files_place_after_the_listing_is_not_read()
    {
        _server.Home.Write("elsewhere/secret.nc", "secret", Old);
        File.CreateSymbolicLink(_server.Home["share/a.nc"], _server.Home["elsewhere/secret.nc"]);
        using var files = new SftpFiles(_server.Config);

        var fault = Assert.ThrowsAny<IOException>(() => files.Open(_server.FullFolder + "/a.nc"));

        Assert.Equal(FileTrouble.NoFile, ShareErrors.Of(fault));
    }

    [Fact]
    public void A_print_out_that_grows_is_read_where_it_was_left()
    {
        _server.Home.Write("share/p.log", "SIZE bore-1 25.0\n", Old);
        Scan(_server.Config, "*.log", SourceKind.PrintOut);
        _server.Home.Append("share/p.log", "SIZE bore-2 25.0\nSIZE bo");

        for (var looks = 0; looks < 4; looks++) ScanAfter(3);

        Assert.Equal(["SIZE bore-1 25.0\n", "SIZE bore-2 25.0\n"], _texts);
    }

    [Fact]
    public void A_server_that_is_killed_is_a_fault_of_the_share_and_its_return_ends_it()
    {
        _server.Home.Write("share/a.nc", "G10 L2 P1 X-1.\n", Old);
        Assert.True(Scan(_server.Config).Clean);

        _server.Kill();
        var dead = ScanAfter(2);
        Assert.False(dead.Clean);
        Assert.Contains("server", dead.Fault);

        _server.Start();
        _server.Home.Write("share/b.nc", "G10 L2 P1 X-2.\n", Old);
        var alive = ScanAfter(2);
        for (var looks = 0; looks < 3; looks++) alive = ScanAfter(3);
        Assert.True(alive.Clean, alive.Fault);
        Assert.Equal(["a.nc", "b.nc"], _found.Select(found => found.Name));
    }

    [Fact]
    public void A_server_that_freezes_is_given_up_in_time_and_taken_up_again()
    {
        _server.Home.Write("share/a.nc", "G10 L2 P1 X-1.\n", Old);
        Assert.True(Scan(_server.Config, answerWithin: Impatient).Clean);

        _server.Freeze();
        var frozen = ScanAfter(2);
        Assert.False(frozen.Clean);
        Assert.False(ScanAfter(2).Clean);

        _server.Thaw();
        _server.Home.Append("share/a.nc", "G10 L2 P1 Y-2.\n");
        var alive = ScanAfter(2);
        for (var looks = 0; looks < 4; looks++) alive = ScanAfter(3);
        Assert.True(alive.Clean, alive.Fault);
        Assert.Equal("G10 L2 P1 X-1.\nG10 L2 P1 Y-2.\n", _texts[^1]);
    }

    [Fact]
    public void A_file_that_ends_before_its_size_does_not_count_and_comes_again()
    {
        _server.Home.Write("share/a.nc", new string('N', 9000), Old);
        using var files = new SftpFiles(_server.Config);
        using var file = files.Open(_server.FullFolder + "/a.nc");
        Assert.Equal(9000, file.Stat().SizeBytes);

        File.WriteAllText(_server.Home["share/a.nc"], "short");

        Assert.True(ByteRange.Fill(file, new byte[9000], 0) < 9000);
        Assert.Equal(5, file.Stat().SizeBytes);
    }

    [Fact]
    public void A_server_with_another_key_is_refused_by_both_fingerprints_before_anything_is_sent()
    {
        var report = Scan(_server.WithWrongHostKey);

        Assert.Contains(_server.Config.HostKey, report.Fault);
        Assert.Contains(_server.WithWrongHostKey.HostKey, report.Fault);
        Assert.Contains("nothing was sent to it", report.Fault);
    }

    [Fact]
    public void A_wrong_password_is_told_and_not_shown()
    {
        var report = Scan(_server.WithWrongPassword);

        Assert.Contains("the server does not accept the user or its secret", report.Fault);
        Assert.DoesNotContain("no such secret", report.Fault);
    }

    [Fact]
    public void A_password_that_the_server_accepts_opens_the_folder()
    {
        using var server = new OwnSshServer(takesPassword: true);
        server.Home.Write("share/a.nc", "G10 L2 P1 X-1.\n", Old);

        var report = Scan(server.WithPassword);

        Assert.True(report.Clean, report.Fault);
        Assert.Equal("G10 L2 P1 X-1.\n", Assert.Single(_texts));
    }

    [Fact]
    public void A_folder_that_is_not_there_is_a_fault()
    {
        Directory.Delete(_server.Folder);

        Assert.Contains("the folder is not there", Scan(_server.Config).Fault);
    }

    [Fact]
    public void A_frozen_server_blocks_its_own_worker_and_no_other()
    {
        using var local = new TempShare();
        local.Write("a.nc", "G10 L2 P1 X-1.\n", Old);
        using var intake = new FirstFound();
        _server.Freeze();
        using var watcher = new ShareWatcher(
            [Source(_server.Config, "*.nc"), Source(null, "*.nc", local.Folder)], new LocalFiles(), TimeProvider.System, intake);

        watcher.Start();

        Assert.Equal("a.nc", intake.Wait(TestContext.Current.CancellationToken));
        Assert.Null(watcher.Statuses[0].LastCleanUtc);
        _server.Thaw();
    }

    private static ShareSource Source(
        SftpConfig? config, string files, string folder = "", SourceKind read = SourceKind.DataSetting) =>
        new("mill-3", new WatchConfig
        {
            Index = config is null ? 1 : 0,
            Folder = config?.FullFolder ?? folder,
            FullFolder = config?.FullFolder ?? folder,
            Sftp = config,
            Files = files,
            Read = read,
        });

    private ScanReport Scan(SftpConfig config, string files = "*.nc", SourceKind read = SourceKind.DataSetting,
        TimeSpan? answerWithin = null)
    {
        _files = new SftpFiles(config, answerWithin ?? Patient);
        _scan = new FolderScan(Source(config, files, read: read), _files, _clock, []);
        return Run(_scan);
    }

    private ScanReport ScanAfter(double seconds)
    {
        _clock.Advance(seconds);
        return Run(_scan ?? throw new InvalidOperationException("nothing was scanned yet"));
    }

    private ScanReport Run(FolderScan scan) => scan.Run(batch =>
    {
        _found.AddRange(batch.Found);
        _texts.AddRange(batch.Found.Where(found => found.Refused is null).Select(TextOf));
    }, TestContext.Current.CancellationToken);

    private static string TextOf(FoundFile found)
    {
        using var reader = new StreamReader(found.OpenStream(), Encoding.Latin1);
        return reader.ReadToEnd();
    }

    /// <summary>Takes in nothing for good; says what was found first.</summary>
    private sealed class FirstFound : IIntake, IDisposable
    {
        private readonly ManualResetEventSlim _isFound = new();
        private volatile string _name = "";

        public string Wait(CancellationToken token)
        {
            _isFound.Wait(token);
            return _name;
        }

        public IReadOnlyList<Position> Positions(ShareSource source) => [];

        public void TakeIn(ScanBatch batch, CancellationToken cancel)
        {
            if (batch.Found.Count == 0 || _isFound.IsSet) return;
            _name = batch.Found[0].Name;
            _isFound.Set();
        }

        public void Ended(ScanReport report)
        {
        }

        public void Dispose() => _isFound.Dispose();
    }
}
