namespace SetupAudit.Reports;

/// <summary>A stretch of machine coordinates that a drawing covers.</summary>
internal readonly record struct Stretch(double Low, double High)
{
    public double Length => High - Low;

    public double Middle => (Low + High) / 2;

    public bool Holds(double value) => value >= Low && value <= High;

    public Stretch With(double value) => new(Math.Min(Low, value), Math.Max(High, value));

    public Stretch Grown(double by) => new(Low - by, High + by);

    public double Clamp(double value) => Math.Clamp(value, Low, High);
}
