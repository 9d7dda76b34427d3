namespace SetupAudit.Shop;

/// <summary>A closed range, in the unit of whatever it limits.</summary>
public readonly record struct Bounds(decimal Low, decimal High)
{
    public bool Holds(decimal value) => value >= Low && value <= High;
}
