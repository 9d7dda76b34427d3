using System.Text.Json;
using SetupAudit.Datums;
using SetupAudit.Evidence;

namespace SetupAudit.Shapes;

/// <summary>What a setup sheet said of a setup's part, in the machine's unit.</summary>
public sealed record SheetView
{
    public required string Program { get; init; }

    public string? Part { get; init; }

    public decimal? StockX { get; init; }

    public decimal? StockY { get; init; }

    public decimal? StockZ { get; init; }

    /// <summary>Where each datum lies on the stock, such as back-left-top; null where the sheet does not say.</summary>
    public IReadOnlyList<(Register Register, string? At)> Datums { get; init; } = [];

    public required SourceLine Source { get; init; }

    internal static void Write(Utf8JsonWriter json, SheetView view)
    {
        json.Text("program", view.Program);
        json.Text("part", view.Part);
        json.Number("stockX", view.StockX);
        json.Number("stockY", view.StockY);
        json.Number("stockZ", view.StockZ);
        json.Each("datums", view.Datums, (inner, item) =>
        {
            inner.Text("register", item.Register.ToString());
            inner.Text("at", item.At);
        });
        EvidenceView.Write(json, view.Source);
    }

    internal static SheetView Read(JsonElement body) => new()
    {
        Program = body.TextOf("program"),
        Part = body.Text("part"),
        StockX = body.Number("stockX"),
        StockY = body.Number("stockY"),
        StockZ = body.Number("stockZ"),
        Datums = body.List("datums", item => (ShapeValues.ParseRegister(item.TextOf("register")), item.Text("at"))),
        Source = EvidenceView.Read(body),
    };
}
