namespace SetupAudit.Shop;

/// <summary>The versions of every setup sheet: which held at a moment.</summary>
public sealed class SheetShelf
{
    private readonly Dictionary<string, List<SetupSheet>> _versions = new(StringComparer.Ordinal);

    /// <summary>Adds a version; the order of adding does not matter.</summary>
    public void Add(SetupSheet sheet)
    {
        if (!_versions.TryGetValue(sheet.Program, out var versions)) _versions[sheet.Program] = versions = [];
        versions.Add(sheet);
        versions.Sort(Compare);
    }

    /// <summary>
    /// The last version of its moment or before, else the first after it; null where the program has no sheet.
    /// </summary>
    public SetupSheet? At(string program, DateTimeOffset moment) =>
        _versions.TryGetValue(program, out var versions)
            ? versions.LastOrDefault(sheet => sheet.ModifiedUtc <= moment) ?? versions[0]
            : null;

    private static int Compare(SetupSheet left, SetupSheet right)
    {
        var order = left.ModifiedUtc.CompareTo(right.ModifiedUtc);
        return order == 0 ? string.CompareOrdinal(left.Sha256, right.Sha256) : order;
    }
}
