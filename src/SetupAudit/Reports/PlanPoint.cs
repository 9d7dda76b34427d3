using SetupAudit.Shapes;


namespace SetupAudit.Reports;

/// <summary>A datum as a drawing from above shows it, in machine coordinates, the common offset added.</summary>
internal sealed record PlanPoint
{
    public required RegisterView Register { get; init; }

    /// <summary>Where it lay when the setup opened; null where not known.</summary>
    public (double H, double V)? Old { get; init; }

    /// <summary>Where it lies now; null where not known.</summary>
    public (double H, double V)? New { get; init; }

    /// <summary>Set in this setup in either axis of the drawing.</summary>
    public required bool Set { get; init; }

    /// <summary>The register's rotation in degrees.</summary>
    public double Turned { get; init; }

    /// <summary>Outline of the stock round the datum; null where no sheet gives it.</summary>
    public (Stretch H, Stretch V)? Stock { get; init; }

    public string Name => Register.Register.ToString();

    public double Moved => Old is { } old && New is { } now ? double.Hypot(now.H - old.H, now.V - old.V) : 0;

    public (double H, double V)? Shown => New ?? Old;
}
