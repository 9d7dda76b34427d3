using System.Text.RegularExpressions;
using SetupAudit.Support;

namespace SetupAudit.Store.Records;

/// <summary>docs/records.md names, clause by clause, tests that are there.</summary>
public sealed partial class ClauseTableTests
{
    [Fact]
    public void Every_test_that_a_clause_names_is_there()
    {
        var page = File.ReadAllText(Repository.At("docs/records.md"));
        var named = Name().Matches(page[page.IndexOf("## Clause by clause", StringComparison.Ordinal)..])
            .Select(match => match.Value).Distinct(StringComparer.Ordinal).ToList();
        var there = Directory.EnumerateFiles(Repository.At("tests"), "*Tests.cs", SearchOption.AllDirectories)
            .Select(path => Path.GetFileNameWithoutExtension(path)).ToHashSet(StringComparer.Ordinal);

        Assert.True(named.Count > 20);
        Assert.DoesNotContain(named, name => !there.Contains(name));
    }

    [GeneratedRegex(@"\b[A-Z][A-Za-z]+Tests\b", RegexOptions.NonBacktracking)]
    private static partial Regex Name();
}
