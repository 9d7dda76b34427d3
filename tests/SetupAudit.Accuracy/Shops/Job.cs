using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Accuracy.Shops;

/// <summary>A job that a made-up machine runs again and again.</summary>
internal sealed record Job
{
    public required string Program { get; init; }

    public required IReadOnlyList<JobDatum> Datums { get; init; }

    public required IReadOnlyList<RackTool> Tools { get; init; }

    public required SettingWay Way { get; init; }

    /// <summary>How much the whole job lies elsewhere from setup to setup, as a standard deviation; 0 where its fixture
    /// has a fixed place.</summary>
    public required double Loose { get; init; }

    /// <summary>The stock's extents, in the machine's unit.</summary>
    public required IReadOnlyDictionary<Axis, double> Stock { get; init; }

    /// <summary>How truly the stock is cut, as a standard deviation.</summary>
    public required double StockSpread { get; init; }

    /// <summary>Which corner is wanted, such as back-left-top.</summary>
    public required string At { get; init; }

    /// <summary>Null where the shop wrote none.</summary>
    public SetupSheet? Sheet { get; init; }

    /// <summary>Its first register.</summary>
    public Register Main => Datums[0].Register;

    /// <summary>How many clean setups it has behind it at least when one is judged.</summary>
    public required int Earlier { get; init; }

    /// <summary>The middle and the standard deviation of an offset from setup to setup, in the machine's unit.</summary>
    public (double Usual, double Spread) Usually(OffsetKey key)
    {
        if (key.IsTool)
        {
            var tool = Tools.First(item => item.Number == key.Tool);
            return key == tool.LengthKey ? (tool.Length, tool.Spread) : (tool.Diameter, tool.DiameterSpread);
        }
        var place = Datums.First(datum => datum.Register == key.Register).Places[key.Axis];
        var loose = key.Axis == Axis.Z ? 0 : Loose;
        return (place.Usual, Math.Sqrt(place.Spread * place.Spread + loose * loose));
    }

    /// <summary>The standard deviation of an axis of a register against the others of the job.</summary>
    public double Apart(OffsetKey key)
    {
        var datum = Datums.First(datum => datum.Register == key.Register);
        return datum.Places[key.Axis].Spread * Math.Sqrt(2);
    }
}
