namespace SetupAudit.Shop.Configuration;

/// <summary>
/// The two keys that say where a secret is, and the refusal of the secret itself, which does not belong into the
/// configuration.
/// </summary>
internal static class SecretKeys
{
    private static readonly TypedShape<string> Variable = new("the name of an environment variable",
        (ConfigNode node, out string value) =>
        {
            value = node.Text;
            return node.Kind == ConfigKind.Text && value.Length > 0
                && !value.AsSpan().ContainsAny('=', '\0') && !value.Any(char.IsWhiteSpace);
        });

    /// <summary>PasswordFile and PasswordVariable, for the stem Password.</summary>
    public static IEnumerable<ConfigKey> Of(string stem) =>
        [new(stem + "File", Values.Path), new(stem + "Variable", Variable)];

    public static Dictionary<string, string> Refused(string stem, params string[] keys) => keys.ToDictionary(
        key => key,
        _ => $"is a secret and not written here; put it into a file and give its path as {stem}File",
        StringComparer.OrdinalIgnoreCase);

    /// <summary>One place is enough: of two nobody knows which holds.</summary>
    public static void CheckOne(ConfigNode node, ConfigCheck check, string stem)
    {
        if (node[stem + "File"] is null || node[stem + "Variable"] is not { } variable) return;
        check.Add(variable.Path, variable.Place,
            $"stands beside {stem}File; the secret is in one place, give only that");
    }

    public static SecretSource? Read(ConfigNode node, string stem, Folders folders)
    {
        if (Values.Path.TryRead(node[stem + "File"], out var file)) return new(folders.Full(file), null);
        return Variable.TryRead(node[stem + "Variable"], out var variable) ? new(null, variable) : null;
    }
}
