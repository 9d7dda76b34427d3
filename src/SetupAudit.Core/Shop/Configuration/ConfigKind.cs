namespace SetupAudit.Shop.Configuration;

/// <summary>The kinds of value that JSON has.</summary>
internal enum ConfigKind
{
    Null,
    Truth,
    Number,
    Text,
    List,
    Object,
}
