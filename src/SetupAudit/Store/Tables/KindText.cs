namespace SetupAudit.Store.Tables;

/// <summary>How the database writes the kind of a derived row.</summary>
internal static class KindText
{
    private static readonly string[] Names = [.. Enum.GetNames<DerivedKind>().Select(name => name.ToLowerInvariant())];

    public static string Of(DerivedKind kind) => Names[(int)kind];

    public static DerivedKind Read(string name) => (DerivedKind)Array.IndexOf(Names, name);
}
