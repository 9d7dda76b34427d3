using System.Text.RegularExpressions;
using SetupAudit.Findings;
using SetupAudit.Shop.Configuration;
using SetupAudit.Support;

namespace SetupAudit.Shop;

/// <summary>Holds docs/configuration.md to the keys that the readers know: key, what is allowed, default.</summary>
public sealed class ConfigurationPageTests
{
    private static readonly Regex Heading = new("^#+ .*`(?<path>[^`]+)`$");

    private static readonly Regex Row = new(@"^\| `(?<key>\w+)` \| (?<allowed>[^|]*) \| (?<default>[^|]*) \| (?<what>.+) \|$");

    private static readonly string[] Page =
        File.ReadAllLines(Repository.At("docs/configuration.md"));

    [Fact]
    public void The_page_has_every_key_with_what_is_allowed_and_its_default_and_no_other()
    {
        var known = Objects("configuration", ShopConfigSection.Shape).Concat(Objects("sheet", SheetSection.Shape))
            .SelectMany(shape => shape.Shape.Keys.Select(key => $"{shape.Path} | {RowOf(key)}"));
        Assert.Equal(known.Order(StringComparer.Ordinal), Documented().Order(StringComparer.Ordinal));
    }

    [Fact]
    public void The_page_names_every_rule_meaning_and_group()
    {
        var text = string.Join('\n', Page);
        foreach (var word in RuleNames.All.Concat(PrintPattern.Meanings).Concat(PrintPattern.Groups))
            Assert.Contains($"`{word}`", text);
    }

    [Fact]
    public void Every_rule_of_the_rule_book_can_be_configured()
    {
        foreach (var rule in RuleBook.Rules) Assert.Contains(rule.Name, RuleNames.All);
    }

    [Fact]
    public void Every_choice_of_the_dialect_is_a_key() => Assert.Equal(
        typeof(DialectConfig).GetProperties().Where(property => property.CanWrite).Select(property => property.Name).Order(),
        DialectSection.Shape.Keys.Select(key => key.Name).Order());

    private static string RowOf(ConfigKey key) =>
        $"{key.Name} | {key.Shape.Allowed} | {(key.IsRequired ? "required" : key.Default.Length == 0 ? "none" : key.Default)}";

    private static IEnumerable<string> Documented()
    {
        var path = "";
        foreach (var line in Page)
        {
            if (Heading.Match(line) is { Success: true } heading) path = heading.Groups["path"].Value;
            if (Row.Match(line) is not { Success: true } row) continue;
            yield return $"{path} | {row.Groups["key"]} | {row.Groups["allowed"]} | {row.Groups["default"]}".Replace("\\*", "*");
        }
    }

    private static IEnumerable<(string Path, ObjectShape Shape)> Objects(string path, ConfigShape shape) => shape switch
    {
        ObjectShape structure => structure.Keys
            .SelectMany(key => Objects(Below(path, key.Name), key.Shape)).Prepend((path, structure)),
        ListShape list => Objects(path + "[]", list.Item),
        MapShape map => Objects(path + ".NAME", map.Item),
        MachinesShape => Objects(path + ".NAME", MachinesShape.Item),
        EitherShape either => Objects(path, either.Structure),
        _ => [],
    };

    private static string Below(string path, string key) => path == "configuration" ? key : $"{path}.{key}";
}
