namespace SetupAudit.Shop.Configuration;

/// <summary>The key Web: where the page listens.</summary>
internal static class WebSection
{
    public const string UsualUrl = "http://127.0.0.1:8460";

    public static ObjectShape Shape { get; } = new("an object with Url",
    [
        new("Url", WebAddress.OfPage, UsualUrl),
    ]);

    public static string Url(ConfigNode? node) => WebAddress.OfPage.Read(node?["Url"], UsualUrl);
}
