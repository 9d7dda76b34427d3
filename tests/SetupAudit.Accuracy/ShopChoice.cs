using SetupAudit.Units;

namespace SetupAudit.Accuracy;

/// <summary>What the made-up shops are limited to.</summary>
/// <param name="Unit">Null for machines of both units.</param>
/// <param name="AllSheets">Every job has a setup sheet; else about half of them.</param>
internal sealed record ShopChoice(Unit? Unit = null, bool AllSheets = false);
