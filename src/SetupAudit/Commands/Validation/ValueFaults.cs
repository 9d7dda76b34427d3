using SetupAudit.Shop;

namespace SetupAudit.Commands.Validation;

/// <summary>
/// Runs the validators over what the reader could read, and says where each failure stands in the file.
/// </summary>
internal static class ValueFaults
{
    public static IEnumerable<ConfigFault> Find(ShopConfig draft, ConfigResult result)
    {
        var told = new HashSet<(int, int, string)>();
        foreach (var failure in new ShopConfigValidator().Validate(draft).Errors)
        {
            var path = failure.PropertyName;
            if (IsFaultyAlready(path, result)) continue;
            var (line, column) = result.PlaceOf(path);
            // What one machine takes from another is wrong in one place of the file, and told once.
            if (told.Add((line, column, failure.ErrorMessage)))
                yield return new ConfigFault(path, line, column, failure.ErrorMessage);
        }
    }

    // The draft holds a default for a value that could not be read; what a validator says of that means nothing.
    private static bool IsFaultyAlready(string path, ConfigResult result) => result.Faults.Any(fault =>
        fault.Path == path
        || path.StartsWith(fault.Path + ".", StringComparison.Ordinal)
        || path.StartsWith(fault.Path + "[", StringComparison.Ordinal)
        || (result.Places.TryGetValue(path, out var place) && place == new ConfigPlace(fault.Line, fault.Column)));
}
