using SetupAudit.Accuracy.Mistakes;
using SetupAudit.Datums;

namespace SetupAudit.Accuracy.Scraps;

/// <summary>Makes up which offset is wrong, and by how much: enough to scrap a part, not enough to crash.</summary>
internal sealed class ScrapMaker(Scene scene, Dice dice)
{
    private readonly double _mm = scene.Machine.Mm;

    /// <summary>Null where the kind cannot happen on the machine.</summary>
    public Scrap? Make(ScrapKind kind)
    {
        var tool = dice.Pick(scene.Job.Tools);
        return kind switch
        {
            // What opens no new setup: up to a quarter of a millimetre.
            ScrapKind.DatumTweaked => new Scrap(kind, dice.Pick(scene.Axes), Signed(0.05, 0.24)),
            ScrapKind.WearTweaked => new Scrap(
                kind, dice.Chance(0.5) ? tool.LengthWearKey : tool.DiameterWearKey, Signed(0.04, 0.5)),
            ScrapKind.LengthMeasured => new Scrap(kind, tool.LengthKey, Signed(0.08, 3)),
            ScrapKind.DiameterEntered => new Scrap(kind, tool.DiameterKey, Signed(0.05, 1)),
            ScrapKind.SetWrong => Far(kind, dice.Pick(scene.Axes)),
            ScrapKind.NeverSet => Far(kind, scene.Key(Axis.Z)),
            _ => new Scrap(kind, dice.Pick(scene.Axes), Signed(0.05, 3)),
        };
    }

    // A datum that is wrong within what the job usually varies by is nobody's mistake.
    private Scrap? Far(ScrapKind kind, OffsetKey key)
    {
        var by = Signed(0.08, 5);
        return Math.Abs(by) > 5 * scene.Job.Usually(key).Spread ? new Scrap(kind, key, by) : null;
    }

    private double Signed(double low, double high) => dice.Sign() * dice.LogBetween(low, high) * _mm;
}
