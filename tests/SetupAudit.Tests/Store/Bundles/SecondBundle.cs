using System.IO.Compression;
using System.Text;
using System.Text.Json;
using Org.BouncyCastle.Crypto.Digests;
using Org.BouncyCastle.Crypto.Parameters;
using Org.BouncyCastle.Crypto.Signers;

namespace SetupAudit.Store.Bundles;

/// <summary>
/// Checks a bundle a second time, after docs/records.md and with another library: no line and no type of the program is
/// used. It throws where anything is wrong.
/// </summary>
internal sealed class SecondBundle
{
    private readonly Dictionary<string, byte[]> _files = new(StringComparer.Ordinal);
    private readonly Dictionary<string, JsonElement> _entries = new(StringComparer.Ordinal);

    private SecondBundle(byte[] bytes)
    {
        using var zip = new ZipArchive(new MemoryStream(bytes));
        foreach (var entry in zip.Entries)
        {
            using var content = new MemoryStream();
            using (var stream = entry.Open()) stream.CopyTo(content);
            Need(_files.TryAdd(entry.FullName, content.ToArray()), "a file twice");
        }
    }

    public static void Check(byte[] bytes)
    {
        var bundle = new SecondBundle(bytes);
        var (origin, setup) = bundle.List();
        bundle.Entries(origin, setup);
        bundle.Signed(origin);
        bundle.Contents();
        bundle.Dropped();
    }

    private (string Origin, string Setup) List()
    {
        var list = JsonDocument.Parse(_files["bundle.json"]).RootElement;
        var names = new HashSet<string> { "bundle.json", "checkpoint.txt" };
        foreach (var file in list.GetProperty("files").EnumerateArray())
        {
            var name = Text(file, "name");
            Need(names.Add(name), "named twice");
            Need(Hex(_files[name]) == Text(file, "sha256") && _files[name].Length == file.GetProperty("bytes").GetInt32(), $"{name} differs");
        }
        var rest = _files.Keys.Where(name => !names.Contains(name) && !name.StartsWith("proofs/", StringComparison.Ordinal)
            && !name.StartsWith("consistency/", StringComparison.Ordinal)).ToList();
        Need(rest.Count == 1, $"not exactly the entry that says the bundle: {string.Join(", ", rest)}");
        var export = Encoding.UTF8.GetString(_files[rest[0]]);
        Need(export.Contains($"\"kind\":\"export\",\"said\":{{\"setup\":\"{Text(list, "setup")}\",\"bundle\":\"{Hex(_files["bundle.json"])}\"", StringComparison.Ordinal), "another list");
        foreach (var name in new[] { "report.html", "setup.json", "CHECK.html", "key.txt", "key.pem" }) Need(names.Contains(name), name);
        return (Text(list, "origin"), Text(list, "setup"));
    }

    private void Entries(string origin, string setup)
    {
        foreach (var (name, bytes) in _files.Where(file => file.Key.StartsWith("entries/", StringComparison.Ordinal)))
        {
            var entry = JsonDocument.Parse(bytes).RootElement;
            Need($"entries/{entry.GetProperty("number").GetInt64()}.json" == name && Text(entry, "origin") == origin, "misplaced");
            if (Text(entry, "kind") == "rows" && Text(entry.GetProperty("said"), "table") != "dropped")
                Need(Text(entry.GetProperty("said"), "setup") == setup, "of another setup");
            _entries[name] = entry;
        }
    }

    private void Signed(string origin)
    {
        var note = Encoding.UTF8.GetString(_files["checkpoint.txt"]);
        var split = note.LastIndexOf("\n\n", StringComparison.Ordinal);
        var text = note[..(split + 1)];
        var lines = text.Split('\n');
        Need(lines.Length == 4 && lines[0] == origin && lines[3].Length == 0, "no checkpoint");
        var size = long.Parse(lines[1]);
        Need($"{lines[0]}\n{size}\n{Convert.ToBase64String(Convert.FromBase64String(lines[2]))}\n" == text, "written otherwise");
        var keys = _entries.Values.Where(entry => Text(entry, "kind") is "begin" or "key").OrderBy(Number)
            .Select(entry => (Number: Number(entry), Key: Text(entry.GetProperty("said"), "key"))).ToList();
        Need(keys[0].Number == 0, "no first entry");
        Need(Encoding.UTF8.GetString(_files["key.txt"]) == keys[^1].Key + "\n", "another key");
        var raw = Raw(keys[^1].Key);
        var der = Convert.FromBase64String(string.Concat(Encoding.UTF8.GetString(_files["key.pem"]).Split('\n').Where(line => !line.StartsWith('-'))));
        Need(der.AsSpan(der.Length - 32).SequenceEqual(raw), "another PEM");
        Need(SignedBy(note, origin, keys[^1].Key), "the signature fails");
        Earlier(origin, size, Convert.FromBase64String(lines[2]), keys);
        Need(_files.Keys.Count(name => name.StartsWith("proofs/", StringComparison.Ordinal)) == _entries.Count, "proofs");
        foreach (var name in _entries.Keys) Proved(name, size, Convert.FromBase64String(lines[2]));
    }

    private void Earlier(string origin, long size, byte[] root, List<(long Number, string Key)> keys)
    {
        var vouched = new HashSet<string>(StringComparer.Ordinal);
        foreach (var (name, bytes) in _files.Where(file => file.Key.StartsWith("earlier/", StringComparison.Ordinal)))
        {
            var note = Encoding.UTF8.GetString(bytes);
            var lines = note.Split('\n');
            var older = long.Parse(lines[1]);
            Need(name == $"earlier/{older}.txt" && lines[0] == origin && lines[3].Length == 0, "another checkpoint");
            var now = keys.FindLastIndex(key => key.Number < older);
            Need(SignedBy(note, origin, keys[now].Key), "the signature of an earlier one fails");
            if (now > 0 && SignedBy(note, origin, keys[now - 1].Key)) vouched.Add(keys[now].Key);
            GoesOn(older, Convert.FromBase64String(lines[2]), size, root);
        }
        Need(keys.Skip(1).All(key => vouched.Contains(key.Key)), "a key that nobody vouched for");
        foreach (var name in _files.Keys.Where(name => name.StartsWith("consistency/", StringComparison.Ordinal)))
            Need(_files.ContainsKey(name.Replace("consistency/", "earlier/", StringComparison.Ordinal)), "a proof of nothing");
    }

    // By the recursion of RFC 9162, 2.1.4.1, and not by the walk over bits that the program does.
    private void GoesOn(long older, byte[] olderRoot, long newer, byte[] newerRoot)
    {
        var lines = Encoding.UTF8.GetString(_files[$"consistency/{older}.txt"]).Split('\n');
        Need(lines[0] == $"from {older}" && lines[1] == $"to {newer}" && lines[^1].Length == 0, "another proof");
        var steps = lines[2..^1].Select(line => (Word: line.Split(' ')[0], Hash: Convert.FromHexString(line.Split(' ')[1]))).ToList();
        var at = 0;
        var (before, after) = Walk(older, newer, known: true);
        Need(at == steps.Count && before.AsSpan().SequenceEqual(olderRoot) && after.AsSpan().SequenceEqual(newerRoot), "not consistent");

        byte[] Next(string word)
        {
            Need(at < steps.Count && steps[at].Word == word && steps[at].Hash.Length == 32, "the proof is not of this form");
            return steps[at++].Hash;
        }

        (byte[] Before, byte[] After) Walk(long from, long to, bool known)
        {
            if (from == to)
            {
                var hash = Next("start");
                Need(!known || hash.AsSpan().SequenceEqual(olderRoot), "it starts elsewhere");
                return (hash, hash);
            }
            var left = 1L;
            while (2 * left < to) left *= 2;
            if (from <= left)
            {
                var (one, two) = Walk(from, left, known);
                return (one, Sha256([1, .. two, .. Next("newer")]));
            }
            var (older, newer) = Walk(from - left, to - left, known: false);
            var beside = Next("both");
            return (Sha256([1, .. beside, .. older]), Sha256([1, .. beside, .. newer]));
        }
    }

    private static bool SignedBy(string note, string origin, string key)
    {
        var raw = Raw(key);
        var id = Sha256([.. Encoding.UTF8.GetBytes(origin), 10, 1, .. raw])[..4];
        var split = note.LastIndexOf("\n\n", StringComparison.Ordinal);
        var text = Encoding.UTF8.GetBytes(note[..(split + 1)]);
        foreach (var line in note[(split + 2)..].Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            var signature = Convert.FromBase64String(line.Split(' ')[2]);
            if (line.Split(' ')[1] != origin || !signature.AsSpan(0, 4).SequenceEqual(id)) continue;
            var signer = new Ed25519Signer();
            signer.Init(false, new Ed25519PublicKeyParameters(raw));
            signer.BlockUpdate(text, 0, text.Length);
            return signer.VerifySignature(signature[4..]);
        }
        return false;
    }

    private static byte[] Raw(string key) => Convert.FromBase64String(key.Split('+', 3)[2])[1..];

    private static long Number(JsonElement entry) => entry.GetProperty("number").GetInt64();

    // From the path alone: which side a hash stands on follows from index and size, whatever the file says.
    private void Proved(string name, long size, byte[] root)
    {
        var number = long.Parse(Path.GetFileNameWithoutExtension(name));
        var lines = Encoding.UTF8.GetString(_files[$"proofs/{number}.txt"]).Split('\n');
        Need(lines[0] == $"index {number}" && lines[1] == $"size {size}", "another proof");
        var path = lines[2..^1].Select(line => (Side: line.Split(' ')[0], Hash: Convert.FromHexString(line.Split(' ')[1]))).ToList();
        Need(path.TrueForAll(step => step.Hash.Length == 32), "a hash of another length");
        var at = 0;
        Need(Walk(number, size).AsSpan().SequenceEqual(root) && at == path.Count, "the path ends elsewhere");

        byte[] Walk(long index, long count)
        {
            if (count == 1) return Sha256([0, .. _files[name]]);
            var left = 1L;
            while (2 * left < count) left *= 2;
            var below = index < left ? Walk(index, left) : Walk(index - left, count - left);
            Need(at < path.Count, "the path is too short");
            var (side, hash) = path[at++];
            Need(side == (index < left ? "right" : "left"), "on the other side");
            return index < left ? Sha256([1, .. below, .. hash]) : Sha256([1, .. hash, .. below]);
        }
    }

    private void Contents()
    {
        var arrivals = _entries.Values.Where(entry => Text(entry, "kind") == "arrival").Select(entry => Text(entry.GetProperty("said"), "sha256")).ToHashSet();
        foreach (var (name, bytes) in _files.Where(file => file.Key.StartsWith("evidence/", StringComparison.Ordinal)))
            Need(name == "evidence/" + Hex(bytes) && arrivals.Contains(Hex(bytes)), "evidence");
        foreach (var (name, bytes) in _files.Where(file => file.Key.StartsWith("rows/", StringComparison.Ordinal)))
        {
            var said = _entries[name.Replace("rows/", "entries/", StringComparison.Ordinal).Replace(".rows", ".json", StringComparison.Ordinal)].GetProperty("said");
            Need(Text(said, "sha256") == Hex(bytes), "rows");
            Need(CountRows(bytes) == said.GetProperty("rows").GetInt64(), "another number of rows");
        }
        foreach (var (name, entry) in _entries)
            if (Text(entry, "kind") == "rows")
                Need(_files.ContainsKey(name.Replace("entries/", "rows/", StringComparison.Ordinal).Replace(".json", ".rows", StringComparison.Ordinal)), "no rows");
    }

    // What was dropped is said to be so by an entry that seals the row.
    private void Dropped()
    {
        if (!JsonDocument.Parse(_files["bundle.json"]).RootElement.TryGetProperty("evidenceDropped", out var dropped)) return;
        var said = _entries.Values.Where(entry => Text(entry, "kind") == "rows").Select(entry => entry.GetProperty("said"))
            .Where(rows => Text(rows, "table") == "dropped")
            .SelectMany(rows => rows.GetProperty("keys").EnumerateArray()).Select(key => key.GetString()).ToHashSet();
        Need(dropped.EnumerateArray().All(sha256 => said.Contains(sha256.GetString())), "dropped, and no entry says so");
    }

    // Every value has its length before it: only then is a line feed the end of a row.
    private static int CountRows(byte[] bytes)
    {
        var rows = 0;
        for (var at = 0; at < bytes.Length;)
            if (bytes[at] == '\n') (rows, at) = (rows + 1, at + 1);
            else if (bytes[at] == '~') at++;
            else
            {
                var colon = Array.IndexOf(bytes, (byte)':', at);
                at = colon + 1 + int.Parse(Encoding.ASCII.GetString(bytes, at, colon - at));
                Need(bytes[at++] == ',', "no comma");
            }
        return rows;
    }

    private static string Text(JsonElement element, string name) => element.GetProperty(name).GetString() ?? "";

    private static string Hex(byte[] bytes) => Convert.ToHexStringLower(Sha256(bytes));

    private static byte[] Sha256(byte[] bytes)
    {
        var digest = new Sha256Digest();
        digest.BlockUpdate(bytes, 0, bytes.Length);
        var hash = new byte[32];
        digest.DoFinal(hash, 0);
        return hash;
    }

    private static void Need(bool holds, string what)
    {
        if (!holds) throw new InvalidDataException(what);
    }
}
