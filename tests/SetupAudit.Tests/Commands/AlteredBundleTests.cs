using System.IO.Compression;
using System.Text;
using SetupAudit.Records;
using SetupAudit.Store.Bundles;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Commands;

/// <summary>Bundles altered in every way that we could think of; the second verifier must refuse each as well.</summary>
public sealed class AlteredBundleTests
{
    private static readonly Dictionary<string, (string Code, Action<SortedDictionary<string, byte[]>> Alter)> Ways = new()
    {
        ["evidence-bit"] = (FaultCode.EvidenceAltered, files => Flip(files, First(files, "evidence/"))),
        ["evidence-gone"] = (FaultCode.BundleIncomplete, files => files.Remove(First(files, "evidence/"))),
        ["evidence-added"] = (FaultCode.BundleDiffers, files => files["evidence/" + TreeHash.Of("x"u8)] = "x"u8.ToArray()),
        ["evidence-renamed"] = (FaultCode.EvidenceAltered, files => Move(files, First(files, "evidence/"), "evidence/" + MerkleTree.EmptyRoot)),
        ["rows-bit"] = (FaultCode.RowsAltered, files => Flip(files, First(files, "rows/"))),
        ["rows-gone"] = (FaultCode.BundleIncomplete, files => files.Remove(First(files, "rows/"))),
        ["rows-added"] = (FaultCode.RowsUnsealed, files => files["rows/1.rows"] = "1:a,\n"u8.ToArray()),
        ["entry-origin"] = (FaultCode.EntryMisplaced, files => Edit(files, First(files, "entries/0"), "setupaudit/shop", "setupaudit/shoq")),
        ["entry-time"] = (FaultCode.ProofFails, files => Edit(files, Last(files, "entries/"), "\"at\":\"2", "\"at\":\"3")),
        ["entry-gone"] = (FaultCode.BundleIncomplete, files => files.Remove(First(files, "entries/", "\"kind\":\"finding\""))),
        ["entry-and-proof-gone"] = (FaultCode.BundleIncomplete, files =>
        {
            var entry = First(files, "entries/", "\"kind\":\"finding\"");
            files.Remove(entry);
            files.Remove(entry.Replace("entries/", "proofs/", StringComparison.Ordinal).Replace(".json", ".txt", StringComparison.Ordinal));
        }
        ),
        ["entry-swapped"] = (FaultCode.EntryMisplaced, files =>
        {
            var (one, two) = (First(files, "entries/", "\"kind\":\"finding\""), First(files, "entries/", "\"kind\":\"arrival\""));
            (files[one], files[two]) = (files[two], files[one]);
        }
        ),
        ["entry-doubled"] = (FaultCode.EntryMisplaced, files => files["entries/999.json"] = files["entries/0.json"]),
        ["entry-not-json"] = (FaultCode.EntryUnreadable, files => files["entries/0.json"] = "{"u8.ToArray()),
        ["first-entry-gone"] = (FaultCode.UnknownKey, files => files.Remove("entries/0.json")),
        ["proof-gone"] = (FaultCode.BundleIncomplete, files => files.Remove("proofs/0.txt")),
        ["proof-bit"] = (FaultCode.ProofFails, files => Flip(files, "proofs/0.txt")),
        ["proof-side"] = (FaultCode.ProofFails, files => Edit(files, "proofs/0.txt", "right", "left")),
        ["proof-short"] = (FaultCode.ProofFails, files => files["proofs/0.txt"] = files["proofs/0.txt"][..^71]),
        ["proof-31-bytes"] = (FaultCode.ProofFails, files => files["proofs/0.txt"] = [.. files["proofs/0.txt"][..^3], 10]),
        ["proof-33-bytes"] = (FaultCode.ProofFails, files => files["proofs/0.txt"] = [.. files["proofs/0.txt"][..^1], .. "00\n"u8]),
        ["proof-empty-hash"] = (FaultCode.ProofFails, files => files["proofs/0.txt"] = [.. files["proofs/0.txt"], .. "right \n"u8]),
        ["proof-too-long"] = (FaultCode.ProofFails, files => files["proofs/0.txt"] = [.. files["proofs/0.txt"],
            .. Encoding.UTF8.GetBytes(string.Concat(Enumerable.Repeat($"right {MerkleTree.EmptyRoot}\n", 65)))]),
        ["proof-size"] = (FaultCode.ProofFails, files => Edit(files, "proofs/0.txt", "size ", "size 1")),
        ["proof-of-nothing"] = (FaultCode.BundleDiffers, files => files["proofs/998.txt"] = files["proofs/0.txt"]),
        ["checkpoint-gone"] = (FaultCode.BundleIncomplete, files => files.Remove("checkpoint.txt")),
        ["checkpoint-size"] = (FaultCode.BadSignature, files => Edit(files, "checkpoint.txt", "\n2", "\n3", "\n1", "\n4")),
        ["checkpoint-root"] = (FaultCode.BadSignature, files => Checkpoint(files, 2, line => Convert.ToBase64String(MerkleTree.EmptyRoot.ToArray()))),
        ["checkpoint-origin"] = (FaultCode.BundleDiffers, files => Checkpoint(files, 0, line => line + "x")),
        ["checkpoint-zero"] = (FaultCode.BadSignature, files => Checkpoint(files, 1, line => "0" + line)),
        ["checkpoint-unsigned"] = (FaultCode.BadSignature, files => files["checkpoint.txt"] = files["checkpoint.txt"][..(Encoding.UTF8.GetString(files["checkpoint.txt"]).IndexOf("\n\n", StringComparison.Ordinal) + 2)]),
        ["checkpoint-signature"] = (FaultCode.BadSignature, files => Checkpoint(files, 4, line => line[..^12] + "AAAAAAAAAAA=")),
        ["checkpoint-other-key"] = (FaultCode.UnknownKey, files => Checkpoint(files, 4, line => line[..(line.LastIndexOf(' ') + 1)] + "AAAA" + line[(line.LastIndexOf(' ') + 5)..])),
        ["key-other"] = (FaultCode.BundleDiffers, files => files["key.txt"] = Encoding.UTF8.GetBytes(new VerifierKey("setupaudit/shop", new byte[32]) + "\n")),
        ["earlier-bit"] = (FaultCode.BadSignature, files => Flip(files, First(files, "earlier/"), 60)),
        ["earlier-gone"] = (FaultCode.BundleIncomplete, files => files.Remove(First(files, "earlier/"))),
        ["earlier-renamed"] = (FaultCode.BundleDiffers, files => Move(files, First(files, "earlier/"), "earlier/1.txt")),
        ["consistency-bit"] = (FaultCode.ProofFails, files => Flip(files, First(files, "consistency/"))),
        ["consistency-word"] = (FaultCode.ProofFails, files => Edit(files, First(files, "consistency/"), "start ", "both ")),
        ["consistency-gone"] = (FaultCode.BundleIncomplete, files => files.Remove(First(files, "consistency/"))),
        ["consistency-added"] = (FaultCode.BundleDiffers, files => files["consistency/1.txt"] = files[First(files, "consistency/")]),
        ["pem-other"] = (FaultCode.BundleDiffers, files => Flip(files, "key.pem", 40)),
        ["report-edited"] = (FaultCode.BundleDiffers, files => Edit(files, "report.html", "mill-3", "mill-4")),
        ["report-gone"] = (FaultCode.BundleIncomplete, files => files.Remove("report.html")),
        ["setup-edited"] = (FaultCode.BundleDiffers, files => Edit(files, "setup.json", "mill-3", "mill-4")),
        ["check-edited"] = (FaultCode.BundleDiffers, files => Edit(files, "CHECK.html", "NOT in the record", "in the record")),
        ["list-gone"] = (FaultCode.BundleIncomplete, files => files.Remove("bundle.json")),
        ["list-blank"] = (FaultCode.BundleIncomplete, files => files["bundle.json"] = [.. files["bundle.json"], 32]),
        ["list-edited"] = (FaultCode.BundleDiffers, files => Edit(files, "bundle.json", "\"made\": \"2", "\"made\": \"3")),
        ["list-and-report-edited"] = (FaultCode.BundleDiffers, files =>
        {
            var before = TreeHash.Of(files["report.html"]).ToString();
            Edit(files, "report.html", "mill-3", "mill-4");
            Edit(files, "bundle.json", before, TreeHash.Of(files["report.html"]).ToString());
        }
        ),
    };

    public static TheoryData<string> Names => [.. Ways.Keys];

    [Theory, MemberData(nameof(Names))]
    public async Task A_bundle_altered_so_is_refused_by_this_program_and_by_another(string way)
    {
        using var bench = await BundleBench.MadeAsync();
        var files = bench.Files();
        var before = BundleBench.Zip(files);
        Assert.True(BundleBench.Check(before).Holds);
        SecondBundle.Check(before);

        Ways[way].Alter(files);
        var altered = BundleBench.Zip(files);

        Assert.NotEqual(before, altered);
        var check = BundleBench.Check(altered);
        Assert.True(check.Faults.Any(fault => fault.Code == Ways[way].Code), string.Join("\n", check.Faults) + " expected " + Ways[way].Code);
        Assert.ThrowsAny<Exception>(() => SecondBundle.Check(altered));
    }

    [Theory]
    [InlineData("../evil.txt"), InlineData("/etc/passwd"), InlineData("entries/../bundle.json"), InlineData("entries\\0.json")]
    [InlineData("C:/x"), InlineData("evidence/"), InlineData("entries/00.json"), InlineData("entries/0.json.exe"), InlineData("Bundle.json")]
    [InlineData("entries/0.json\n"), InlineData("entries/-1.json"), InlineData("evidence/\u202Etxt")]
    public async Task A_name_that_no_bundle_has_is_refused_before_anything_is_read(string name)
    {
        using var bench = await BundleBench.MadeAsync();
        var files = bench.Files();
        files[name] = "x"u8.ToArray();
        var fault = Assert.Single(BundleBench.Check(BundleBench.Zip(files)).Faults);
        Assert.Equal((FaultCode.BundleUnreadable, $"this is no bundle that can be checked: it holds a file named '{name}', which no bundle has"), (fault.Code, fault.Text));
    }

    [Fact]
    public async Task A_file_that_is_in_it_twice_is_refused()
    {
        using var bench = await BundleBench.MadeAsync();
        var files = bench.Files().Append(new("setup.json", "{}"u8.ToArray()));
        Assert.Equal("this is no bundle that can be checked: it holds the file setup.json twice", Assert.Single(BundleBench.Check(BundleBench.Zip(files)).Faults).Text);
    }

    [Fact]
    public void An_archive_that_unpacks_to_more_than_a_bundle_may_have_is_refused_as_it_unpacks()
    {
        using var bytes = new MemoryStream();
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            using var stream = zip.CreateEntry("report.html", CompressionLevel.Fastest).Open();
            var zeros = new byte[1 << 20];
            for (var count = 0; count < 65; count++) stream.Write(zeros);
        }
        Assert.True(bytes.Length < 1 << 20);
        Assert.Equal("this is no bundle that can be checked: it unpacks to more than a bundle may have, at the file report.html",
            Assert.Single(BundleBench.Check(bytes.ToArray()).Faults).Text);
    }

    [Fact]
    public async Task What_is_no_archive_or_only_half_of_one_is_refused()
    {
        using var bench = await BundleBench.MadeAsync();
        var whole = BundleBench.Zip(bench.Files());
        foreach (var bytes in new[] { [], "no archive"u8.ToArray(), whole[..(whole.Length / 2)], whole[40..] })
            Assert.False(BundleBench.Check(bytes).Holds);
        Assert.Equal(FaultCode.BundleIncomplete, Assert.Single(BundleBench.Check(BundleBench.Zip([])).Faults).Code);
    }

    // Whatever a flipped bit hits, the answer is one of both, never an exception.
    [Fact]
    public async Task A_bit_flipped_anywhere_in_the_archive_is_found_or_alters_nothing_that_it_says()
    {
        using var bench = await BundleBench.MadeAsync();
        var files = bench.Files();
        var whole = BundleBench.Zip(files);
        for (var at = 0; at < whole.Length; at += 37)
        {
            byte[] altered = [.. whole];
            altered[at] ^= (byte)(1 << (at % 8));
            if (!BundleBench.Check(altered).Holds) continue;
            using var zip = new ZipArchive(new MemoryStream(altered));
            Assert.Equal(files.Keys, zip.Entries.Select(entry => entry.FullName));
        }
    }

    private static string First(SortedDictionary<string, byte[]> files, string start, string holds = "") =>
        files.First(file => file.Key.StartsWith(start, StringComparison.Ordinal) && Encoding.UTF8.GetString(file.Value).Contains(holds, StringComparison.Ordinal)).Key;

    private static string Last(SortedDictionary<string, byte[]> files, string start) =>
        files.Keys.Last(name => name.StartsWith(start, StringComparison.Ordinal));

    private static void Flip(SortedDictionary<string, byte[]> files, string name, int at = -5)
    {
        byte[] bytes = [.. files[name]];
        var place = at < 0 ? bytes.Length + at : at;
        bytes[place] = bytes[place] == (byte)'1' ? (byte)'2' : (byte)'1';
        files[name] = bytes;
    }

    private static void Move(SortedDictionary<string, byte[]> files, string from, string to)
    {
        files[to] = files[from];
        files.Remove(from);
    }

    private static void Edit(SortedDictionary<string, byte[]> files, string name, params string[] pairs)
    {
        var text = Encoding.UTF8.GetString(files[name]);
        var edited = text;
        for (var pair = 0; pair < pairs.Length; pair += 2) edited = edited.Replace(pairs[pair], pairs[pair + 1], StringComparison.Ordinal);
        Assert.NotEqual(text, edited);
        files[name] = Encoding.UTF8.GetBytes(edited);
    }

    private static void Checkpoint(SortedDictionary<string, byte[]> files, int line, Func<string, string> edit)
    {
        var lines = Encoding.UTF8.GetString(files["checkpoint.txt"]).Split('\n');
        lines[line] = edit(lines[line]);
        files["checkpoint.txt"] = Encoding.UTF8.GetBytes(string.Join('\n', lines));
    }
}
