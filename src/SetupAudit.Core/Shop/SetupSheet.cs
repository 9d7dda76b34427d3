using SetupAudit.Units;

namespace SetupAudit.Shop;

/// <summary>
/// What a setup sheet asks for. Its values are in <see cref="Units"/>; <c>InUnit</c> gives them in a machine's.
/// </summary>
public sealed record SetupSheet
{
    /// <summary>Normalised program name.</summary>
    public required string Program { get; init; }

    public string? Part { get; init; }

    public required Unit Units { get; init; }

    public decimal? StockX { get; init; }

    public decimal? StockY { get; init; }

    public decimal? StockZ { get; init; }

    public IReadOnlyList<SheetDatum> Datums { get; init; } = [];

    public IReadOnlyList<SheetTool> Tools { get; init; } = [];

    public IReadOnlyList<SheetMeasure> Measured { get; init; } = [];

    public required string File { get; init; }

    public required string Sha256 { get; init; }

    public required DateTimeOffset ModifiedUtc { get; init; }

    /// <summary>A length of the sheet in a machine's unit.</summary>
    public decimal InUnit(decimal value, Unit machine) => Length.Convert(value, Units, machine);

    /// <summary>A range of lengths of the sheet in a machine's unit.</summary>
    public Bounds InUnit(Bounds span, Unit machine) => new(InUnit(span.Low, machine), InUnit(span.High, machine));
}
