using System.Text.RegularExpressions;
using SetupAudit.Shop;
using SetupAudit.Support;

namespace SetupAudit.Findings;

/// <summary>docs/rules.md says of every rule what the book says.</summary>
public sealed partial class RulesDocumentTests
{
    private const string NotYet = "Not available yet.";

    private static readonly IReadOnlyDictionary<string, string> Sections = Read();

    public static TheoryData<string> Names => [.. RuleBook.Rules.Select(rule => rule.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void A_rule_is_documented_with_its_severity(string name)
    {
        var severity = RuleBook.Rules.Single(rule => rule.Name == name).Default;
        var section = Assert.Contains(name, Sections);
        Assert.StartsWith($"Severity: {severity.ToString().ToLowerInvariant()}\n", section, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void A_rule_is_documented_with_why_when_and_what_it_cannot_see(string name)
    {
        var section = Assert.Contains(name, Sections);
        foreach (var part in new[] { "Why it matters: ", "Holds when: ", "Cannot see: " })
            Assert.Contains($"\n\n{part}", section, StringComparison.Ordinal);
    }

    [Fact]
    public void The_document_lists_the_rules_that_the_configuration_knows_in_its_order() =>
        Assert.Equal(RuleNames.All, Sections.Keys);

    [Fact]
    public void The_configuration_knows_every_rule_of_the_book_in_its_order() =>
        Assert.Equal(RuleBook.Rules.Select(rule => rule.Name), RuleNames.All.Intersect(RuleBook.Rules.Select(rule => rule.Name)));

    [Fact]
    public void A_rule_that_the_document_puts_off_is_not_in_the_book() =>
        Assert.Empty(Sections.Where(section => section.Value.Contains(NotYet, StringComparison.Ordinal))
            .Select(section => section.Key).Intersect(RuleBook.Rules.Select(rule => rule.Name)));

    private static Dictionary<string, string> Read()
    {
        var text = File.ReadAllText(Repository.At("docs/rules.md")).ReplaceLineEndings("\n");
        return Heading.Matches(text).ToDictionary(
            match => match.Groups["name"].Value, match => match.Groups["body"].Value, StringComparer.Ordinal);
    }

    [GeneratedRegex(@"^## (?<name>[a-z-]+)\n\n(?<body>(?:(?!^## ).*\n?)*)", RegexOptions.Multiline)]
    private static partial Regex Heading { get; }
}
