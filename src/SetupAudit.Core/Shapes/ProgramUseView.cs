using System.Text.Json;

namespace SetupAudit.Shapes;

/// <summary>Which text of a program a setup was judged by.</summary>
public sealed record ProgramUseView
{
    public required string Program { get; init; }

    public string? Title { get; init; }

    /// <summary>Null where no version of it has been read.</summary>
    public string? File { get; init; }

    public string? Sha256 { get; init; }

    public DateTimeOffset? ModifiedUtc { get; init; }

    /// <summary>The text was first read in a version later than the setup.</summary>
    public bool Later { get; init; }

    /// <summary>No print-out named it: its file was written shortly before the setup.</summary>
    public bool ByLookback { get; init; }

    /// <summary>Programs it calls that no source has shown.</summary>
    public IReadOnlyList<string> Missing { get; init; } = [];

    internal static void Write(Utf8JsonWriter json, ProgramUseView view)
    {
        json.Text("program", view.Program);
        json.Text("title", view.Title);
        json.Text("file", view.File);
        json.Text("sha256", view.Sha256);
        json.Time("modified", view.ModifiedUtc);
        json.Flag("later", view.Later);
        json.Flag("byLookback", view.ByLookback);
        json.Texts("missing", view.Missing);
    }

    internal static ProgramUseView Read(JsonElement body) => new()
    {
        Program = body.TextOf("program"),
        Title = body.Text("title"),
        File = body.Text("file"),
        Sha256 = body.Text("sha256"),
        ModifiedUtc = body.Time("modified"),
        Later = body.FlagOf("later"),
        ByLookback = body.FlagOf("byLookback"),
        Missing = body.Texts("missing"),
    };
}
