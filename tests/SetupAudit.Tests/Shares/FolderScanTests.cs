using System.Security.Cryptography;

namespace SetupAudit.Shares;

public sealed class FolderScanTests
{
    private readonly ShareBench _bench = new();

    private MemoryShare Share => _bench.Share;

    [Fact]
    public void A_file_older_than_settle_is_taken_at_once_by_the_first_scan()
    {
        Share.Write("a.nc", "G10 L2 P1 X1.");
        _bench.Clock.Advance(2);

        var report = _bench.Scan();

        var found = Assert.Single(_bench.Taken);
        Assert.Equal("a.nc", found.Name);
        Assert.Equal("shares/mill-3/offsets/a.nc", found.File);
        Assert.Equal("G10 L2 P1 X1.", ShareBench.Text(found));
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData("G10 L2 P1 X1."u8)), found.Sha256);
        Assert.Equal(DateTimeOffset.Parse("2026-03-02T07:00:00Z", null), found.ModifiedUtc);
        Assert.True(report.Clean);
        Assert.Equal(report.StartedUtc, report.HorizonUtc);
    }

    [Fact]
    public void The_horizon_does_not_pass_a_file_that_waits()
    {
        Share.Write("a.nc", "1");
        _bench.Clock.Advance(1);

        var report = _bench.Scan();

        Assert.True(report.Clean);
        Assert.Equal(DateTimeOffset.Parse("2026-03-02T07:00:00Z", null), report.HorizonUtc);
        Assert.Equal(DateTimeOffset.Parse("2026-03-02T07:00:01Z", null), report.StartedUtc);
    }

    [Fact]
    public void An_unchanged_file_is_neither_opened_nor_taken_again()
    {
        Share.Write("a.nc", "1");
        _bench.ScanAfter(3600);
        _bench.ScanFor(60);

        Assert.Single(_bench.Taken);
        Assert.Equal(1, Share.Opened);
    }

    [Fact]
    public void A_restart_goes_on_where_the_store_stands()
    {
        Share.Write("a.nc", "1");
        _bench.ScanAfter(3600);

        _bench.Restart();
        _bench.ScanFor(4);

        Assert.Single(_bench.Taken);
        Assert.Equal(1, Share.Opened);
    }

    [Fact]
    public void What_the_store_did_not_keep_comes_again()
    {
        Share.Write("a.nc", "1");
        _bench.Clock.Advance(10);
        _bench.BeforeTakeIn = _ => throw new InvalidOperationException("disk full");
        Assert.Throws<InvalidOperationException>(() => _bench.Scan());

        _bench.BeforeTakeIn = _ => { };
        _bench.ScanFor(4);

        Assert.Equal(["1"], _bench.Texts);
    }

    [Fact]
    public void Files_come_oldest_first_in_batches_of_bounded_size()
    {
        var bench = new ShareBench(limits: new ScanLimits { BatchFiles = 10 });
        for (var i = 0; i < 25; i++) bench.Share.Write($"{100 - i}.nc", "1", bench.Share.Now.AddMinutes(-100 + i));
        bench.Scan();

        Assert.Equal([10, 10, 5], bench.Batches.Select(batch => batch.Found.Count));
        Assert.Equal(bench.Taken.OrderBy(one => one.ModifiedUtc).Select(one => one.Name), bench.Taken.Select(one => one.Name));
    }

    [Fact]
    public void Each_batch_moves_the_positions_of_what_it_holds_and_no_others()
    {
        var bench = new ShareBench(limits: new ScanLimits { BatchFiles = 1 });
        bench.Share.Write("a.nc", "1");
        bench.Share.Write("b.nc", "2");
        bench.Clock.Advance(10);
        bench.Scan();

        Assert.Equal(["a.nc"], bench.Batches[0].Positions.Select(one => one.Name).Where(name => name.Length > 0));
        Assert.Equal(["b.nc"], bench.Batches[1].Positions.Select(one => one.Name).Where(name => name.Length > 0));
    }

    [Fact]
    public void A_folder_below_is_listed_only_where_the_glob_goes_there()
    {
        var deep = new ShareBench(files: "**/*.nc");
        foreach (var share in new[] { deep.Share, Share })
        {
            share.Make("old", EntryKind.Folder);
            share.Write("old/a.nc", "1");
            share.Write("b.nc", "2");
        }

        deep.ScanFor(4);
        _bench.ScanFor(4);

        Assert.Equal(["b.nc", "old/a.nc"], deep.Taken.Select(one => one.Name));
        Assert.Equal(["b.nc"], _bench.Taken.Select(one => one.Name));
    }

    [Fact]
    public void Two_names_that_differ_in_case_are_two_documents()
    {
        Share.Write("A.NC", "1");
        Share.Write("a.nc", "2");
        _bench.ScanFor(4);

        Assert.Equal(["1", "2"], _bench.Texts);
    }

    [Fact]
    public void A_name_that_only_changes_case_is_the_same_document()
    {
        Share.Write("A.NC", "1");
        _bench.ScanFor(4);
        Share.Rename("A.NC", "a.nc");
        _bench.ScanFor(70);

        Assert.Single(_bench.Taken);
        Assert.Equal(["a.nc"], _bench.Kept.Keys.Where(name => name.Length > 0));
    }

    [Fact]
    public void A_name_that_only_writes_its_accents_otherwise_is_the_same_document()
    {
        Share.Write("gr\u00f6\u00dfe.nc", "1");
        _bench.ScanFor(4);
        Share.Rename("gr\u00f6\u00dfe.nc", "Gro\u0308\u00dfe.nc");
        _bench.ScanFor(70);

        Assert.Single(_bench.Taken);
        Assert.Equal(["Gro\u0308\u00dfe.nc"], _bench.Kept.Keys.Where(name => name.Length > 0));
    }

    [Theory]
    [InlineData("X.LOG")]
    [InlineData("m\u00fc.log", "mu\u0308.log")]
    public void A_print_out_that_grew_while_its_name_changed_in_writing_only_is_read_on(params string[] names)
    {
        var (before, after) = names is [var from, var to] ? (from, to) : ("x.log", names[0]);
        var bench = new ShareBench(Shop.SourceKind.PrintOut, "*.log");
        bench.Share.Write(before, "one\n");
        bench.ScanFor(4);
        bench.Share.Rename(before, after);
        bench.Share.Append(after, "two\n");
        bench.ScanFor(30);

        Assert.Equal(["one\n", "two\n"], bench.Texts);
    }

    [Fact]
    public void A_large_file_is_handed_out_as_a_stream_that_proves_its_bytes()
    {
        var bench = new ShareBench(limits: new ScanLimits { HeldBytes = 1000, SpoolFolder = null });
        var content = new string('G', 5000);
        bench.Share.Write("a.nc", content);
        bench.Share.MostPerRead = 700;
        bench.ScanFor(4);

        var found = Assert.Single(bench.Taken);
        Assert.Null(found.Bytes);
        Assert.Equal(content, ShareBench.Text(found));
        Assert.Equal(content, ShareBench.Text(found));
        bench.Share.Write("a.nc", new string('H', 5000), bench.Share.Stamp("a.nc").ModifiedUtc);
        Assert.Throws<FileChangedException>(() => ShareBench.Text(found));
        bench.Share.Write("a.nc", "short");
        Assert.Throws<FileChangedException>(() => ShareBench.Text(found));
        bench.Share.Delete("a.nc");
        Assert.Throws<FileChangedException>(() => ShareBench.Text(found));
    }

    [Fact]
    public void A_large_file_that_changed_before_it_was_kept_is_tried_again()
    {
        var bench = new ShareBench(limits: new ScanLimits { HeldBytes = 1000, SpoolFolder = null });
        bench.Share.Write("a.nc", new string('G', 5000));
        bench.Share.Write("b.nc", "small");
        var isFirst = true;
        bench.BeforeTakeIn = batch =>
        {
            if (batch.Found.All(one => one.Bytes is not null)) return;
            if (isFirst) bench.Share.Write("a.nc", new string('H', 5000));
            isFirst = false;
            foreach (var found in batch.Found) ShareBench.Text(found);
        };

        bench.ScanFor(10);

        Assert.Equal(["b.nc", "a.nc"], bench.Taken.Select(one => one.Name));
        Assert.Equal(new string('H', 5000), bench.Texts[1]);
    }

    [Fact]
    public void No_handle_stays_open_whatever_happens()
    {
        Share.Write("a.nc", "1");
        Share.Write("b.nc", "2");
        Share.Before = (call, name) =>
        {
            if (call == "read" && name == "a.nc") throw MemoryShare.Fault(MemoryShare.Eio);
        };
        _bench.ScanFor(60);

        Assert.Equal(0, Share.OpenNow);
        Assert.True(Share.Opened > 2);
    }

    [Fact]
    public void An_unchanged_file_costs_no_memory()
    {
        var few = AllocatedByScan(100);
        var many = AllocatedByScan(2100);

        Assert.InRange(many - few, 0, 2000);
    }

    private static long AllocatedByScan(int files)
    {
        var bench = new ShareBench();
        var share = new CountedShare(files);
        var scan = new FolderScan(bench.Source, share, bench.Clock, [], null);
        void TakeIn(ScanBatch batch) => Assert.All(batch.Found, found => Assert.NotNull(found.Bytes));
        for (var i = 0; i < 5; i++) scan.Run(TakeIn, CancellationToken.None);
        var before = GC.GetAllocatedBytesForCurrentThread();
        scan.Run(TakeIn, CancellationToken.None);
        return GC.GetAllocatedBytesForCurrentThread() - before;
    }

    // Lists without making anything of its own.
    private sealed class CountedShare(int files) : IShareFiles
    {
        private static readonly FileStamp Stamp = new(1, new DateTime(2026, 3, 1, 0, 0, 0, DateTimeKind.Utc));
        private readonly string[] _names = [.. Enumerable.Range(0, files).Select(i => $"{i}.nc")];

        public void List(string folder, EntryVisitor visit)
        {
            foreach (var name in _names) visit(name, EntryKind.File, Stamp);
        }

        public IShareFile Open(string path) => new OneByte();

        public string? Mount(string folder) => null;

        private sealed class OneByte : IShareFile
        {
            public FileStamp Stat() => Stamp;

            public int Read(Span<byte> buffer, long offset)
            {
                if (offset > 0 || buffer.IsEmpty) return 0;
                buffer[0] = (byte)'%';
                return 1;
            }

            public void Dispose()
            {
            }
        }
    }
}
