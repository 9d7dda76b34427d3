using SetupAudit.Readings;
using SetupAudit.Shop;

namespace SetupAudit.Accuracy.Shops;

/// <summary>A made-up machine with its jobs.</summary>
internal sealed record MadeMachine
{
    public required MachineConfig Config { get; init; }

    public required ShopConfig Shop { get; init; }

    /// <summary>A millimetre in the machine's unit.</summary>
    public required double Mm { get; init; }

    public required IReadOnlyList<RackTool> Rack { get; init; }

    public required IReadOnlyList<Job> Jobs { get; init; }

    public required ProgramShelf Programs { get; init; }

    public required SheetShelf Sheets { get; init; }

    /// <summary>A print-out tells programs and cycles; else the program's file is sent before every setup.</summary>
    public required bool TellsCycles { get; init; }

    /// <summary>A value as the control keeps it.</summary>
    public decimal Round(double value) =>
        Math.Round((decimal)value / Config.Resolution, MidpointRounding.AwayFromZero) * Config.Resolution;
}
