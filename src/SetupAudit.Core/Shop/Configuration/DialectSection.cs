namespace SetupAudit.Shop.Configuration;

/// <summary>A machine's Dialect: choices that common practice leaves open.</summary>
internal static class DialectSection
{
    private static readonly DialectConfig Usual = new();

    public static ObjectShape Shape { get; } = new("an object such as { \"G91Adds\": true }",
    [
        new("G91Adds", Values.Truth, "true"),
        new("CallByNumber", Values.Truth, "true"),
    ]);

    public static DialectConfig Read(ConfigNode? node) => new()
    {
        G91Adds = Values.Truth.Read(node?["G91Adds"], Usual.G91Adds),
        CallByNumber = Values.Truth.Read(node?["CallByNumber"], Usual.CallByNumber),
    };
}
