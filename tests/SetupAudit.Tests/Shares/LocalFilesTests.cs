using System.Diagnostics;
using System.Globalization;
using SetupAudit.Shop;
using SetupAudit.Support;

namespace SetupAudit.Shares;

/// <summary>The real file system: links, pipes, folders, names and rights as they come.</summary>
public sealed class LocalFilesTests : IDisposable
{
    private const string LongAgo = "2026-03-01T10:00:00Z";
    private readonly TempShare _share = new();
    private readonly HandClock _clock = new();
    private readonly List<FoundFile> _taken = [];
    private FolderScan? _scan;
    private Action<FoundFile> _onTaken = _ => { };

    [Fact]
    public void A_file_comes_with_its_bytes_and_its_time()
    {
        _share.Write("O2041.NC", "G10 L2 P1 X-310.2", LongAgo);

        var report = Scan();

        var found = Assert.Single(_taken);
        Assert.True(report.Clean, report.Fault);
        Assert.Equal("O2041.NC", found.Name);
        Assert.Equal("G10 L2 P1 X-310.2", ShareBench.Text(found));
        Assert.Equal(DateTimeOffset.Parse(LongAgo, CultureInfo.InvariantCulture), found.ModifiedUtc);
    }

    [Fact]
    public void An_overwrite_in_place_with_the_same_size_and_time_is_found()
    {
        _share.Write("a.nc", "X-310.2", LongAgo);
        Scan();
        _share.Write("a.nc", "X-310.9", LongAgo);
        for (var i = 0; i < 16; i++) Scan(60);
        Scan(4);

        Assert.Equal(["X-310.2", "X-310.9"], _taken.Select(ShareBench.Text));
    }

    [Fact]
    public void Thousands_of_files_are_taken_once_each()
    {
        for (var i = 0; i < 3000; i++) _share.Write($"old/{i}.nc", $"X{i}.", LongAgo);
        Scan(files: "**/*.nc");
        Scan(4);

        Assert.Equal(3000, _taken.Count);
        Assert.Equal(3000, _taken.Select(ShareBench.Text).Distinct().Count());
    }

    [Fact]
    public void Links_are_refused_whether_they_lead_out_of_the_folder_or_stay_in_it()
    {
        _share.Write("inside.txt", "1", LongAgo);
        Link("out.nc", "/etc/hostname");
        Link("in.nc", _share["inside.txt"]);
        Link("nowhere.nc", _share["none"]);
        Link("folder", "/etc");

        var report = Scan(files: "**/*.nc");

        Assert.True(report.Clean, report.Fault);
        Assert.Equal(["in.nc", "nowhere.nc", "out.nc"], _taken.Select(one => one.Name).Order());
        Assert.All(_taken, one => Assert.Equal("a link, not followed", one.Refused));
    }

    [Fact]
    public void A_link_put_in_the_place_of_a_file_after_the_listing_is_not_followed()
    {
        Assert.SkipUnless(LinuxOpen.Available, "only where a file can be opened without following links");
        Link("a.nc", "/etc/hostname");

        Assert.Throws<IOException>(() => new LocalFiles().Open(_share["a.nc"]));
    }

    [Fact]
    public void A_watched_folder_may_itself_be_reached_by_a_link()
    {
        _share.Write("real/a.nc", "1", LongAgo);
        Link("way", _share["real"]);

        Scan(folder: "way");

        Assert.Equal(["1"], _taken.Select(ShareBench.Text));
    }

    [Fact]
    public void A_folder_named_like_a_dump_is_refused()
    {
        Directory.CreateDirectory(_share["a.nc"]);
        _share.Write("b.nc", "1", LongAgo);
        Scan();

        Assert.Equal(["a.nc a folder where a file was expected", "b.nc "], Told().Order());
    }

    [Fact]
    public void A_pipe_is_refused_and_does_not_hang()
    {
        Assert.SkipUnless(LinuxOpen.Available, "no named pipes in folders here");
        Run("mkfifo", _share["a.nc"]);
        _share.Write("b.nc", "1", LongAgo);
        for (var i = 0; i < 20; i++) Scan(2);

        Assert.Equal(
            ["a.nc the file could not be read: it is a pipe or a device, not a file", "b.nc "], Told().Order());
    }

    [Fact]
    public void A_name_that_is_no_text_is_refused_in_the_end()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "names are always text here");
        Run("sh", "-c", $"printf 1 > \"{_share.Folder}/bad$(printf '\\377').nc\"");
        for (var i = 0; i < 20; i++) Scan(2);
        // .NET cannot name it, so it could not clear it away either.
        Run("sh", "-c", $"rm \"{_share.Folder}\"/bad*");

        Assert.Equal(["bad\uFFFD.nc the file is listed, but cannot be opened: it is not there"], Told());
    }

    [Fact]
    public void A_file_without_permission_is_refused_and_the_others_are_taken()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "rights are set otherwise here");
        Assert.SkipWhen(Environment.IsPrivilegedProcess, "root may read everything");
        _share.Write("a.nc", "1", LongAgo);
        _share.Write("b.nc", "2", LongAgo);
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(_share["a.nc"], UnixFileMode.None);
        for (var i = 0; i < 3; i++) Scan(2);

        Assert.Equal(["a.nc no permission to read the file", "b.nc "], Told().Order());
    }

    [Fact]
    public void A_time_that_no_calendar_has_is_listed_and_harms_no_other_file()
    {
        const string memory = "/dev/shm";
        Assert.SkipUnless(LinuxOpen.Available && Directory.Exists(memory), "only a file system in memory takes such a time");
        var folder = Directory.CreateDirectory(Path.Combine(memory, $"setupaudit-{Guid.NewGuid():N}"));
        try
        {
            File.WriteAllText(Path.Combine(folder.FullName, "a.nc"), "1");
            Run("touch", "-d", "@253402300800", Path.Combine(folder.FullName, "a.nc"));
            var listed = new List<string>();
            new LocalFiles().List(folder.FullName, (name, _, stamp) => listed.Add($"{name} {stamp.ModifiedUtc.Year}"));

            Assert.Equal(["a.nc 9999"], listed);
            var fault = Assert.Throws<IOException>(() => new LocalFiles().Open(Path.Combine(folder.FullName, "a.nc")));
            Assert.Equal("its time lies beyond the year 9999 or before the year 1", fault.Message);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Fact]
    public void A_listing_shows_what_the_open_file_shows()
    {
        foreach (var name in new[] { "a.nc", "ä ö.nc", "very-long-" + new string('x', 200) + ".nc" })
            _share.Write(name, name, "2026-03-02T07:00:00.1234567Z");
        Directory.CreateDirectory(_share["folder"]);
        Link("link", _share["a.nc"]);
        var files = new LocalFiles();
        var listed = new Dictionary<string, (EntryKind Kind, FileStamp Stamp)>();
        files.List(_share.Folder, (name, kind, stamp) => listed.Add(name.ToString(), (kind, stamp)));

        Assert.Equal(EntryKind.Folder, listed["folder"].Kind);
        Assert.Equal(EntryKind.Link, listed["link"].Kind);
        Assert.Equal(5, listed.Count);
        foreach (var (name, entry) in listed.Where(pair => pair.Value.Kind == EntryKind.File))
        {
            using var open = files.Open(_share[name]);
            Assert.Equal(open.Stat(), entry.Stamp);
        }
    }

    [Fact]
    public void A_folder_that_is_not_there_is_a_fault_and_comes_back()
    {
        var missing = Scan(folder: "later");
        _share.Write("later/a.nc", "1", LongAgo);
        var there = Scan(30);

        Assert.Equal("the folder is not there", missing.Fault);
        Assert.True(there.Clean);
        Assert.Equal(["1"], _taken.Select(ShareBench.Text));
    }

    [Fact]
    public void A_large_file_is_not_held_in_memory()
    {
        var content = new string('G', 9 << 20);
        _share.Write("a.nc", content, LongAgo);
        var text = "";
        _onTaken = found => text = ShareBench.Text(found);
        Scan();

        Assert.Null(Assert.Single(_taken).Bytes);
        Assert.Equal(content, text);
    }

    [Fact]
    public void The_mount_of_a_folder_is_known_and_stays_the_same()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "a share that is missing is an error here");
        var files = new LocalFiles();

        Assert.NotNull(files.Mount(_share.Folder));
        Assert.Equal(files.Mount(_share.Folder), files.Mount(_share.Folder));
        Assert.NotEqual(files.Mount(_share.Folder), files.Mount("/proc"));
    }

    [Fact]
    public void A_change_is_told_where_the_system_can()
    {
        using var poked = new ManualResetEventSlim();
        using var hint = ChangeHint.Try(Source("*.nc", ""), poked.Set);
        Assert.SkipWhen(hint is null, "the system gives no change notification");
        _share.Write("a.nc", "1");

        Assert.True(poked.Wait(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken));
    }

    public void Dispose() => _share.Dispose();

    private List<string> Told() => [.. _taken.Select(one => $"{one.Name} {one.Refused}")];

    private ScanReport Scan(double after = 0, string files = "*.nc", string folder = "")
    {
        _clock.Advance(after);
        _scan ??= new FolderScan(Source(files, folder), new LocalFiles(), _clock, []);
        return _scan.Run(
            batch =>
            {
                foreach (var found in batch.Found) _onTaken(found);
                _taken.AddRange(batch.Found);
            },
            TestContext.Current.CancellationToken);
    }

    private ShareSource Source(string files, string folder) => new("mill-3", new WatchConfig
    {
        Index = 0,
        Folder = "share",
        FullFolder = _share[folder],
        Files = files,
        Read = SourceKind.DataSetting,
    });

    private void Link(string name, string target)
    {
        try
        {
            File.CreateSymbolicLink(_share[name], target);
        }
        catch (IOException fault)
        {
            Assert.Skip($"no links can be made here: {fault.Message}");
        }
    }

    private static void Run(string program, params string[] arguments)
    {
        using var process = Process.Start(Tool.At(program), arguments);
        process.WaitForExit();
        Assert.Equal(0, process.ExitCode);
    }
}
