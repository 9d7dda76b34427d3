namespace SetupAudit.Shop.Configuration;

/// <summary>A value of a JSON file with its path and place. Objects keep the order of their keys.</summary>
internal sealed class ConfigNode(string path, ConfigPlace place, ConfigKind kind, string text = "")
{
    private const int ItemsShown = 4;

    private readonly List<ConfigMember> _members = [];
    private readonly Dictionary<string, ConfigMember> _byName = new(StringComparer.Ordinal);
    private readonly List<ConfigNode> _items = [];

    public string Path { get; } = path;

    public ConfigPlace Place { get; } = place;

    public ConfigKind Kind { get; } = kind;

    /// <summary>The text, or the number's digits as written, or true or false.</summary>
    public string Text { get; } = text;

    /// <summary>False where the file broke off before the object or list was closed, or within a number.</summary>
    public bool IsWhole { get; set; } = kind is not (ConfigKind.Object or ConfigKind.List);

    public IReadOnlyList<ConfigMember> Members => _members;

    public IReadOnlyList<ConfigNode> Items => _items;

    /// <summary>The value of a key; null where the object has no such key or this is no object.</summary>
    public ConfigNode? this[string name] => MemberOf(name)?.Value;

    public ConfigMember? MemberOf(string name) => _byName.GetValueOrDefault(name);

    /// <summary>Adds a key that the object does not have yet.</summary>
    public void Add(ConfigMember member)
    {
        _byName.Add(member.Name, member);
        _members.Add(member);
    }

    public void Add(ConfigNode item) => _items.Add(item);

    /// <summary>As a sentence about a fault shows it.</summary>
    public string Shown => Kind switch
    {
        ConfigKind.Text => Wording.Quote(Text),
        ConfigKind.Number or ConfigKind.Truth => Wording.Short(Text),
        ConfigKind.List => ShownList,
        ConfigKind.Object => "an object",
        _ => "null",
    };

    // A short list of plain values shows what is wrong with it: [0, -800].
    private string ShownList =>
        _items.Count is > 0 and <= ItemsShown && _items.TrueForAll(item => item.Kind < ConfigKind.List)
        ? $"[{string.Join(", ", _items.Select(item => item.Shown))}]"
        : "a list";
}
