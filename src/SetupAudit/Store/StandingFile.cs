using System.Text.Json;

namespace SetupAudit.Store;

/// <summary>
/// How another process learns where the service stands: a small file beside the record, replaced as a whole. It is
/// shown, never relied on, and no part of what <c>verify</c> checks.
/// </summary>
public static class StandingFile
{
    public const string FileName = "standing.json";

    private const long SizeMostBytes = 16 * 1024 * 1024;

    private static readonly JsonSerializerOptions Json = new() { PropertyNamingPolicy = JsonNamingPolicy.CamelCase };

    /// <summary>Throws what a file system throws; the file there before stays then.</summary>
    public static void Write(string folder, ServiceStanding standing)
    {
        var path = Path.Combine(folder, FileName);
        var next = path + ".next";
        var bytes = JsonSerializer.SerializeToUtf8Bytes(standing, Json);
        try
        {
            File.WriteAllBytes(next, bytes);
            File.Move(next, path, overwrite: true);
        }
        catch (IOException) when (File.Exists(path))
        {
            // A full disk has no room for a second file, and that it is full is what has to be said.
            File.Delete(next);
            using var file = new FileStream(path, FileMode.Open, FileAccess.Write, FileShare.ReadWrite);
            file.Write(bytes);
            file.SetLength(bytes.Length);
        }
    }

    /// <summary>Null where there is none, or none that can be read.</summary>
    public static ServiceStanding? Read(string folder)
    {
        try
        {
            var file = new FileInfo(Path.Combine(folder, FileName));
            return file.Exists && file.Length <= SizeMostBytes
                ? JsonSerializer.Deserialize<ServiceStanding>(File.ReadAllBytes(file.FullName), Json)
                : null;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or JsonException)
        {
            // It is shown beside what is known, and may be missing.
            return null;
        }
    }
}
