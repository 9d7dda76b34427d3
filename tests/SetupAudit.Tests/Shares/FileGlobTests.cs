namespace SetupAudit.Shares;

public sealed class FileGlobTests
{
    [Theory]
    [InlineData("*.nc", "O2041.nc", true)]
    [InlineData("*.nc", "O2041.NC", true)]
    [InlineData("*.nc", "O2041.nc.tmp", false)]
    [InlineData("*.nc", "old/O2041.nc", false)]
    [InlineData("**/*.nc", "O2041.nc", true)]
    [InlineData("**/*.nc", "a/b/O2041.nc", true)]
    [InlineData("*/x.nc", "a/x.nc", true)]
    [InlineData("*/x.nc", "a/b/x.nc", false)]
    [InlineData("a/**", "a/b/c", true)]
    [InlineData("a/**", "b/c", false)]
    [InlineData("**/b/**/*.nc", "a/b/c/d/x.nc", true)]
    [InlineData("OFFSET?.VAR", "offset7.var", true)]
    [InlineData("OFFSET?.VAR", "offset12.var", false)]
    [InlineData("a/**", "a/b", true)]
    [InlineData("old\\*.nc", "old/a.nc", true)]
    [InlineData("*", "anything", true)]
    [InlineData("*a*a*a*b", "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa", false)]
    [InlineData("a[b", "a[b", true)]
    [InlineData("Gr\u00f6\u00dfe*.nc", "gro\u0308\u00dfe-1.NC", true)]
    [InlineData("Gro\u0308\u00dfe*.nc", "gr\u00f6\u00dfe-1.nc", true)]
    [InlineData("gr?\u00dfe.nc", "gro\u0308\u00dfe.nc", true)]
    [InlineData("grosse.nc", "gr\u00f6\u00dfe.nc", false)]
    [InlineData("*.nc", "\ud800lone.nc", true)]
    public void A_glob_matches_names_below_the_folder(string pattern, string name, bool matches) =>
        Assert.Equal(matches, new FileGlob(pattern).Matches(name));

    [Theory]
    [InlineData("*.nc", "old", false)]
    [InlineData("**/*.nc", "old", true)]
    [InlineData("a/*.nc", "a", true)]
    [InlineData("a/*.nc", "b", false)]
    [InlineData("a/*.nc", "a/b", false)]
    [InlineData("a/**", "a/b/c", true)]
    public void A_folder_is_listed_only_where_something_in_it_could_match(string pattern, string folder, bool may) =>
        Assert.Equal(may, new FileGlob(pattern).MayHoldMatches(folder));

    [Theory]
    [InlineData("*.nc", "a.nc", true)]
    [InlineData("*", "a.nc", false)]
    [InlineData("**/*.nc", "b/a.nc", true)]
    [InlineData("**", "a", false)]
    public void A_folder_looks_like_a_file_only_where_the_glob_says_how_one_looks(
        string pattern, string folder, bool looks) => Assert.Equal(looks, new FileGlob(pattern).LooksLikeFile(folder));
}
