namespace SetupAudit.Accuracy.Shops;

/// <summary>Where an axis of a datum lies from one setup to the next, in the machine's unit.</summary>
/// <param name="Spread">Standard deviation from setup to setup, the touch included.</param>
internal sealed record Place(double Usual, double Spread, Scatter Scatter)
{
    public double Draw(Dice dice) => Usual + Scatter switch
    {
        Scatter.Even => dice.Between(-1, 1) * Spread * Math.Sqrt(3),
        Scatter.LongTails => dice.Student(Spread, 5),
        _ => dice.Normal(Spread),
    };
}
