namespace SetupAudit.Support;

/// <summary>
/// Pairs below fixtures/: an input, and beside it `input-name.expected.json`, the JSON that reading it must give.
/// </summary>
public static class Fixtures
{
    private const string Ending = ".expected.json";

    /// <summary>The inputs of a reader, by name: a row of a theory each.</summary>
    public static TheoryData<string> Of(string reader)
    {
        var files = Directory.GetFiles(Repository.At($"fixtures/{reader}"))
            .Select(Path.GetFileName).OfType<string>()
            .Where(name => !name.EndsWith(Ending, StringComparison.Ordinal));
        return [.. files.Order(StringComparer.Ordinal)];
    }

    public static byte[] Bytes(string reader, string name) => File.ReadAllBytes(Repository.At($"fixtures/{reader}/{name}"));

    /// <summary>Fails unless the text is what the pair expects; ACCEPT=1 writes it, as <see cref="Snapshot"/> does.</summary>
    public static void Expect(string reader, string name, string json) =>
        Snapshot.FileHolds(Repository.At($"fixtures/{reader}/{name}{Ending}"), json);
}
