namespace SetupAudit.Support;

/// <summary>Fails with every sentence, not with the first few that an assertion on a list would show.</summary>
public static class Complaints
{
    public static void None(IEnumerable<string> complaints)
    {
        var all = complaints.ToList();
        if (all.Count > 0) Assert.Fail(string.Join('\n', all.Prepend($"{all.Count} found:")));
    }
}
