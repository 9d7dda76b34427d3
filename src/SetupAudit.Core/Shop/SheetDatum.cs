using SetupAudit.Datums;

namespace SetupAudit.Shop;

/// <summary>A datum that a setup sheet names.</summary>
public sealed record SheetDatum
{
    public required Register Register { get; init; }

    /// <summary>The axes the sheet wants set; empty where it gives none (a fixed datum).</summary>
    public IReadOnlyList<Axis> Axes { get; init; } = [];

    /// <summary>Where on the stock, such as back-left-top; null where it does not say.</summary>
    public string? At { get; init; }

    /// <summary>Range per axis in machine coordinates.</summary>
    public IReadOnlyDictionary<Axis, Bounds> Expect { get; init; } = new Dictionary<Axis, Bounds>();

    /// <summary>Value per axis of a datum that never moves.</summary>
    public IReadOnlyDictionary<Axis, decimal> Fixed { get; init; } = new Dictionary<Axis, decimal>();
}
