using SetupAudit.Units;

namespace SetupAudit.Accuracy;

/// <summary>What the made-up shops are limited to.</summary>
/// <param name="Unit">Null for machines of both units.</param>
/// <param name="AllSheets">Every job has a setup sheet; else about half of them.</param>
/// <param name="Plates">Mills only, and every job has two or three registers on a plate that is put down anew each
/// time.</param>
/// <param name="Only">The one trial that is run; null for all.</param>
internal sealed record ShopChoice(Unit? Unit = null, bool AllSheets = false, Trial? Only = null, bool Plates = false)
{
    public bool Runs(Trial trial) => Only is null || Only == trial;
}
