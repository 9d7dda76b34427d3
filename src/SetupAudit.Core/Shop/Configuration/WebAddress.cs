namespace SetupAudit.Shop.Configuration;

/// <summary>Web addresses: of the page, and of a receiver of alerts.</summary>
internal static class WebAddress
{
    /// <summary>Where the page listens: a host and a port, nothing behind.</summary>
    public static TypedShape<string> OfPage { get; } =
        new("an address such as http://127.0.0.1:8460", (ConfigNode node, out string value) =>
            Read(node, out value) is { Scheme: "http", AbsolutePath: "/", Query: "", Fragment: "", UserInfo: "" });

    /// <summary>Findings are not for others to read on the way: plain http only within this machine.</summary>
    public static TypedShape<string> ForAlerts { get; } =
        new("an https address (plain http only to this machine itself)", (ConfigNode node, out string value) =>
            Read(node, out value) is { UserInfo: "" } uri && (uri.Scheme == Uri.UriSchemeHttps || uri.IsLoopback));

    /// <summary>Where people reach the page, which may be by another name, through another door.</summary>
    public static TypedShape<string> ForPeople { get; } =
        new("an http or https address without a question mark", (ConfigNode node, out string value) =>
            Read(node, out value) is { Query: "", Fragment: "", UserInfo: "" });

    /// <summary>A collector of figures: they tell of machines and folders, nothing of what was found.</summary>
    public static TypedShape<string> OfCollector { get; } =
        new("an address such as http://127.0.0.1:4318", (ConfigNode node, out string value) =>
            Read(node, out value) is { Query: "", Fragment: "", UserInfo: "" });

    /// <summary>A time-stamp authority: it learns a hash and nothing else, and its answer proves itself.</summary>
    public static TypedShape<string> OfAuthority { get; } =
        new("an http or https address", (ConfigNode node, out string value) =>
            Read(node, out value) is { Fragment: "", UserInfo: "" });

    private static Uri? Read(ConfigNode node, out string value)
    {
        value = node.Text;
        if (node.Kind != ConfigKind.Text || !Uri.TryCreate(value, UriKind.Absolute, out var uri)) return null;
        return uri.Scheme == Uri.UriSchemeHttp || uri.Scheme == Uri.UriSchemeHttps ? uri : null;
    }
}
