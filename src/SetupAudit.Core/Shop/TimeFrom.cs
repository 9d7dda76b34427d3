namespace SetupAudit.Shop;

/// <summary>Where the moment that a file speaks of is taken from.</summary>
public enum TimeFrom
{
    File,
    Name,
    Text,
}
