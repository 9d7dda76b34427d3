using System.Text;
using System.Text.Json;

namespace SetupAudit.Shop.Configuration;

/// <summary>Walks a JSON file once and gives it back as nodes that know where they stand. Does not throw.</summary>
internal ref struct ConfigTree
{
    private static readonly JsonReaderOptions Lenient =
        new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true };

    private const int SentenceMost = 200;
    private const string Unreadable = "\uFFFD";

    private readonly ReadOnlySpan<byte> _file;
    private readonly ConfigCheck _check;
    private readonly List<int> _lineStarts = [0];
    private Utf8JsonReader _reader;
    private string _path = "";
    private ConfigPlace _last;
    private int _lastAt;

    private ConfigTree(ReadOnlySpan<byte> file, ConfigCheck check)
    {
        _file = file;
        _check = check;
        _reader = new Utf8JsonReader(file, Lenient);
        for (var at = 0; at < file.Length; at++)
            if (file[at] == '\n') _lineStarts.Add(at + 1);
    }

    /// <summary>The outermost object, as far as the file is JSON; null, with a fault, where there is none.</summary>
    public static ConfigNode? Read(ReadOnlySpan<byte> utf8Json, ConfigCheck check)
    {
        if (utf8Json is [0xEF, 0xBB, 0xBF, ..]) utf8Json = utf8Json[3..];
        if (utf8Json is [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..] or [_, 0, ..] or [0, ..])
            return Refuse(check, "is not UTF-8 text; save it as UTF-8");
        if (utf8Json.IndexOfAnyExcept(" \t\r\n"u8) < 0) return Refuse(check, "is empty; give a JSON object, { ... }");
        return new ConfigTree(utf8Json, check).ReadAll();
    }

    private static ConfigNode? Refuse(ConfigCheck check, string message)
    {
        check.Add("", new ConfigPlace(1, 1), message);
        return null;
    }

    private ConfigNode? ReadAll()
    {
        ConfigNode? root = null;
        try
        {
            _reader.Read();
            if (_reader.TokenType != JsonTokenType.StartObject)
                return Refuse(_check, "is not a JSON object, { ... }");
            root = new ConfigNode("", Place(_reader.TokenStartIndex), ConfigKind.Object);
            ReadObject(root);
            while (_reader.Read()) { }
        }
        catch (JsonException broken)
        {
            var at = StartOf(broken.LineNumber ?? 0) + (broken.BytePositionInLine ?? 0);
            _check.Add(_path, Place(at), at >= _file.TrimEnd(" \t\r\n"u8).Length
                ? "breaks off here; what opens with {, [ or \" must close"
                : $"is not JSON from here on: {Sentence(broken.Message)}");
        }
        return root;
    }

    private void ReadObject(ConfigNode node)
    {
        while (_reader.Read() && _reader.TokenType != JsonTokenType.EndObject)
        {
            var place = Place(_reader.TokenStartIndex);
            var name = TextOf(node.Path, place);
            _reader.Read();
            var value = Begin(ConfigPath.Member(node.Path, name));
            if (node.MemberOf(name) is { } first)
                _check.Add(value.Path, place, $"is given twice; it stands in line {first.Place.Line} already");
            else
                node.Add(new ConfigMember(name, place, value));
            Fill(value);
            _path = node.Path;
        }
        node.IsWhole = true;
    }

    private void ReadList(ConfigNode node)
    {
        while (_reader.Read() && _reader.TokenType != JsonTokenType.EndArray)
        {
            var item = Begin(ConfigPath.Item(node.Path, node.Items.Count));
            node.Add(item);
            Fill(item);
            _path = node.Path;
        }
        node.IsWhole = true;
    }

    private ConfigNode Begin(string path)
    {
        _path = path;
        var place = Place(_reader.TokenStartIndex);
        return _reader.TokenType switch
        {
            JsonTokenType.StartObject => new ConfigNode(path, place, ConfigKind.Object),
            JsonTokenType.StartArray => new ConfigNode(path, place, ConfigKind.List),
            JsonTokenType.String => new ConfigNode(path, place, ConfigKind.Text, TextOf(path, place)),
            JsonTokenType.Number =>
                new ConfigNode(path, place, ConfigKind.Number, Encoding.ASCII.GetString(_reader.ValueSpan))
                {
                    // At the very end of the file there may be digits missing.
                    IsWhole = _reader.BytesConsumed < _file.Length,
                },
            JsonTokenType.True => new ConfigNode(path, place, ConfigKind.Truth, "true"),
            JsonTokenType.False => new ConfigNode(path, place, ConfigKind.Truth, "false"),
            _ => new ConfigNode(path, place, ConfigKind.Null),
        };
    }

    private void Fill(ConfigNode node)
    {
        if (node.Kind == ConfigKind.Object) ReadObject(node);
        if (node.Kind == ConfigKind.List) ReadList(node);
    }

    private string TextOf(string path, ConfigPlace place)
    {
        try
        {
            return _reader.GetString() ?? "";
        }
        catch (InvalidOperationException)
        {
            // Bytes that are no UTF-8, or half of a surrogate pair in an escape.
            _check.Add(path, place, "holds characters that are not UTF-8; save the file as UTF-8");
            return Unreadable;
        }
    }

    private readonly int StartOf(long line) => line < _lineStarts.Count ? _lineStarts[(int)line] : _file.Length;

    private ConfigPlace Place(long offset)
    {
        var at = (int)Math.Min(offset, _file.Length);
        var found = _lineStarts.BinarySearch(at);
        var line = found >= 0 ? found : ~found - 1;
        // Counting goes on from the place before: a file may be one line of a hundred thousand keys.
        var isBehind = line + 1 == _last.Line && at >= _lastAt;
        var from = isBehind ? _lastAt : _lineStarts[line];
        var column = (isBehind ? _last.Column : 1) + Encoding.UTF8.GetCharCount(_file[from..at]);
        (_last, _lastAt) = (new ConfigPlace(line + 1, column), at);
        return _last;
    }

    // The reader's own sentence is right but ends in line and byte, which people are told in our own way.
    private static string Sentence(string message)
    {
        var end = message.IndexOf(" LineNumber:", StringComparison.Ordinal);
        return Wording.Short(end < 0 ? message : message[..end], SentenceMost);
    }
}
