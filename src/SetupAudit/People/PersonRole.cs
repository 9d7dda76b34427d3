namespace SetupAudit.People;

/// <summary>What a person is in the shop. It is shown beside a review; it opens and closes no door.</summary>
public static class PersonRole
{
    public const string Setter = "setter";
    public const string Quality = "quality";
    public const string Administrator = "administrator";

    public static IReadOnlyList<string> All { get; } = [Setter, Quality, Administrator];
}
