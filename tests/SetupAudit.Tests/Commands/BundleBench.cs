using System.IO.Compression;
using SetupAudit.Reports;
using SetupAudit.Store.Bundles;

namespace SetupAudit.Commands;

/// <summary>A bundle of the made-up setup, made by the command, and ways to alter it.</summary>
internal sealed class BundleBench : IDisposable
{
    public CommandBench Shop { get; } = new();

    public string Path => Shop["bundle.zip"];

    public static async Task<BundleBench> MadeAsync()
    {
        var bench = new BundleBench();
        await bench.Shop.FillAsync();
        var (status, written, errors) = await bench.Shop.RunAsync("export", MadeUp.Setup, "--out", bench.Path);
        Assert.True(status == 0 && written.Length == 0, errors);
        return bench;
    }

    public SortedDictionary<string, byte[]> Files()
    {
        var files = new SortedDictionary<string, byte[]>(StringComparer.Ordinal);
        using var zip = ZipFile.OpenRead(Path);
        foreach (var entry in zip.Entries)
        {
            using var content = new MemoryStream();
            using (var stream = entry.Open()) stream.CopyTo(content);
            files.Add(entry.FullName, content.ToArray());
        }
        return files;
    }

    public static byte[] Zip(IEnumerable<KeyValuePair<string, byte[]>> files)
    {
        using var bytes = new MemoryStream();
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
            foreach (var (name, content) in files)
            {
                using var stream = zip.CreateEntry(name).Open();
                stream.Write(content);
            }
        return bytes.ToArray();
    }

    public static BundleCheck Check(byte[] bytes)
    {
        using var stream = new MemoryStream(bytes);
        return BundleVerifier.Run(stream, null, null, TestContext.Current.CancellationToken);
    }

    public void Dispose() => Shop.Dispose();
}
