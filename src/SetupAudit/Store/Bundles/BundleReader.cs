using System.IO.Compression;
using System.Security.Cryptography;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Store.Bundles;

/// <summary>
/// Reads the files of a bundle that may be hostile: only names that a bundle has, each once, nothing longer than it may
/// be however the archive declares it, and nothing is written to a disk.
/// </summary>
internal sealed class BundleReader(FaultList faults)
{
    private const int BufferBytes = 1 << 16;

    private readonly Dictionary<string, byte[]> _held = new(StringComparer.Ordinal);
    private readonly Dictionary<string, (long Bytes, string Sha256)> _all = new(StringComparer.Ordinal);
    private long _heldBytes;
    private long _bytes;

    /// <summary>Everything but evidence.</summary>
    public IReadOnlyDictionary<string, byte[]> Held => _held;

    /// <summary>Every file, by name: its length and SHA-256.</summary>
    public IReadOnlyDictionary<string, (long Bytes, string Sha256)> All => _all;

    /// <summary>Whether the archive could be read to its end.</summary>
    public bool Read(Stream archive, CancellationToken token)
    {
        try
        {
            using var zip = new ZipArchive(archive, ZipArchiveMode.Read, leaveOpen: true);
            if (zip.Entries.Count > BundleNames.FilesMost)
                return Refuse($"it holds {zip.Entries.Count} files; a bundle has at most {BundleNames.FilesMost}");
            foreach (var entry in zip.Entries)
            {
                token.ThrowIfCancellationRequested();
                if (!Take(entry)) return false;
            }
            return true;
        }
        catch (Exception fault) when (fault is InvalidDataException or IOException or NotSupportedException
            or ArgumentException or OverflowException)
        {
            return Refuse($"it is no zip archive that can be read: {fault.Message}");
        }
    }

    private bool Take(ZipArchiveEntry entry)
    {
        var name = entry.FullName;
        if (!BundleNames.IsAllowed(name)) return Refuse($"it holds a file named '{name}', which no bundle has");
        if (_all.ContainsKey(name)) return Refuse($"it holds the file {name} twice");
        var isHeld = !name.StartsWith(BundleNames.EvidenceFolder, StringComparison.Ordinal);
        using var bytes = entry.Open();
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        using var kept = new MemoryStream();
        var buffer = new byte[BufferBytes];
        var length = 0L;
        for (var read = bytes.Read(buffer); read > 0; read = bytes.Read(buffer))
        {
            length += read;
            _bytes += read;
            if (isHeld) _heldBytes += read;
            // Counted as it is unpacked: what an archive declares of itself proves nothing.
            if (_heldBytes > BundleNames.HeldBytesMost || _bytes > BundleNames.AllBytesMost)
                return Refuse($"it unpacks to more than a bundle may have, at the file {name}");
            hash.AppendData(buffer, 0, read);
            if (isHeld) kept.Write(buffer, 0, read);
        }
        _all[name] = (length, Convert.ToHexStringLower(hash.GetHashAndReset()));
        if (isHeld) _held[name] = kept.ToArray();
        return true;
    }

    private bool Refuse(string why)
    {
        faults.Add(FaultCode.BundleUnreadable, $"this is no bundle that can be checked: {why}");
        return false;
    }
}
