using System.Globalization;
using System.Text.RegularExpressions;

namespace SetupAudit.Store.Bundles;

/// <summary>The files of a bundle, and how large it may be. Nothing else may be in one.</summary>
internal static partial class BundleNames
{
    public const string Manifest = "bundle.json";
    public const string Checkpoint = "checkpoint.txt";
    public const string Key = "key.txt";
    public const string PublicKey = "key.pem";
    public const string Report = "report.html";
    public const string Setup = "setup.json";
    public const string Check = "CHECK.html";
    public const string EvidenceFolder = "evidence/";
    public const string EntryFolder = "entries/";

    public const int FilesMost = 100_000;

    /// <summary>What is held in memory at once: everything but evidence, which is only hashed.</summary>
    public const long HeldBytesMost = 64 * 1024 * 1024;

    public const long AllBytesMost = 16L * 1024 * 1024 * 1024;

    public static string Entry(long number) => string.Create(CultureInfo.InvariantCulture, $"entries/{number}.json");

    public static string Proof(long number) => string.Create(CultureInfo.InvariantCulture, $"proofs/{number}.txt");

    public static string Rows(long number) => string.Create(CultureInfo.InvariantCulture, $"rows/{number}.rows");

    /// <summary>A checkpoint from before the bundle's own, by how many entries it covers.</summary>
    public static string Earlier(long size) => string.Create(CultureInfo.InvariantCulture, $"earlier/{size}.txt");

    /// <summary>The proof that the bundle's record begins with the one of that checkpoint.</summary>
    public static string Consistency(long size) =>
        string.Create(CultureInfo.InvariantCulture, $"consistency/{size}.txt");

    /// <summary>An authority's time stamp over the earlier checkpoint of that size.</summary>
    public static string Stamp(long size) => string.Create(CultureInfo.InvariantCulture, $"stamps/{size}.tsr");

    public static string Evidence(string sha256) => EvidenceFolder + sha256;

    /// <summary>Whether a name may stand in a bundle: none leads out of it.</summary>
    public static bool IsAllowed(string name) => Allowed.IsMatch(name);

    /// <summary>Whether the list of a bundle names it: what makes up the proof stands beside the list.</summary>
    public static bool IsListed(string name) =>
        name is not (Manifest or Checkpoint) && !name.StartsWith("proofs/", StringComparison.Ordinal)
        && !name.StartsWith("consistency/", StringComparison.Ordinal);

    /// <summary>The number of an entry by the name of its file; null where it is none.</summary>
    public static long? EntryOf(string name) => NumberOf(name, EntryFolder);

    /// <summary>How many entries an earlier checkpoint covers by the name of its file; null where it is none.</summary>
    public static long? EarlierOf(string name) => NumberOf(name, "earlier/");

    /// <summary>From which size a consistency proof leads by the name of its file; null where it is none.</summary>
    public static long? ConsistencyOf(string name) => NumberOf(name, "consistency/");

    /// <summary>Over which earlier checkpoint a time stamp is by the name of its file; null where it is none.</summary>
    public static long? StampOf(string name) => NumberOf(name, "stamps/");

    private static long? NumberOf(string name, string folder) =>
        name.StartsWith(folder, StringComparison.Ordinal)
        && long.TryParse(
            Path.GetFileNameWithoutExtension(name), NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            ? number : null;

    [GeneratedRegex(@"\A(?:bundle\.json|checkpoint\.txt|key\.txt|key\.pem|report\.html|setup\.json|CHECK\.html"
        + @"|evidence/[0-9a-f]{64}|entries/(?:0|[1-9][0-9]{0,17})\.json|proofs/(?:0|[1-9][0-9]{0,17})\.txt"
        + @"|earlier/[1-9][0-9]{0,17}\.txt|consistency/[1-9][0-9]{0,17}\.txt"
        + @"|stamps/[1-9][0-9]{0,17}\.tsr"
        + @"|rows/(?:0|[1-9][0-9]{0,17})\.rows)\z", RegexOptions.NonBacktracking)]
    private static partial Regex Allowed { get; }
}
