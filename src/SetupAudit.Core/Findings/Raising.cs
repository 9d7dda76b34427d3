using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>How a rule says that it holds: the finding with its id, place, moment and evidence in order.</summary>
internal static class Raising
{
    /// <summary>
    /// About one offset: G54.Z or T3.length ends the id, and the finding names register and axis, or tool.
    /// </summary>
    public static Finding Raise(
        this SetupCase setupCase, IRule rule, Severity severity, OffsetKey key, string message, DateTimeOffset atUtc,
        IEnumerable<SourceLine?> evidence)
    {
        var finding = setupCase.Raise(rule, severity, key.ToString(), message, atUtc, evidence);
        return key.IsTool
            ? finding with { Tool = key.Tool, Of = key.Part }
            : finding with { Register = key.Register, Axis = key.Axis };
    }

    /// <summary>About a register as a whole.</summary>
    public static Finding Raise(
        this SetupCase setupCase, IRule rule, Severity severity, Register register, string message,
        DateTimeOffset atUtc, IEnumerable<SourceLine?> evidence) =>
        setupCase.Raise(rule, severity, register.ToString(), message, atUtc, evidence) with { Register = register };

    /// <summary>About anything else, which <paramref name="what"/> names in the id.</summary>
    public static Finding Raise(
        this SetupCase setupCase, IRule rule, Severity severity, string what, string message, DateTimeOffset atUtc,
        IEnumerable<SourceLine?> evidence) => new()
        {
            Id = $"{setupCase.Setup.Id}/{rule.Name}/{what}",
            Rule = rule.Name,
            Severity = severity,
            Machine = setupCase.Machine.Name,
            Setup = setupCase.Setup.Id,
            Message = message,
            AtUtc = atUtc,
            Evidence = Sorted(evidence),
        };

    /// <summary>Evidence as findings list it: each line once, by file, hash and line.</summary>
    public static IReadOnlyList<SourceLine> Sorted(IEnumerable<SourceLine?> lines) =>
    [
        .. lines.OfType<SourceLine>().Distinct()
            .OrderBy(line => line.File, StringComparer.Ordinal).ThenBy(line => line.Sha256, StringComparer.Ordinal)
            .ThenBy(line => line.Line),
    ];

    /// <summary>
    /// From when a value may be held against this setup: since it stands, but not before the setup opened.
    /// </summary>
    public static DateTimeOffset HeldFrom(this SetupCase setupCase, OffsetState state) =>
        state.SinceUtc > setupCase.Setup.OpenedUtc ? state.SinceUtc : setupCase.Setup.OpenedUtc;

    /// <summary>A moment on the shop's clock, with its day.</summary>
    public static string Told(this SetupCase setupCase, DateTimeOffset momentUtc) =>
        ShopTime.Text(momentUtc, setupCase.Shop);

    /// <summary>A moment on the shop's clock, its day left out where it is that of the other.</summary>
    public static string Told(this SetupCase setupCase, DateTimeOffset momentUtc, DateTimeOffset otherUtc) =>
        ShopTime.Near(momentUtc, otherUtc, setupCase.Shop);

    /// <summary>
    /// The moment a setup is judged at with these programs: one that came to hand later is judged when it did.
    /// </summary>
    public static DateTimeOffset JudgedWith(this IEnumerable<ProgramUse> uses, DateTimeOffset judgedUtc)
    {
        var handedUtc = uses.Select(use => (DateTimeOffset?)use.AtUtc).Min();
        return handedUtc > judgedUtc ? handedUtc.Value : judgedUtc;
    }

    /// <summary>The moment the setup is judged at; null while rules that rest on absence have nothing to say.</summary>
    public static DateTimeOffset? JudgedAt(this SetupCase setupCase) =>
        setupCase.Setup.Judged == Judgement.NotYet ? null : setupCase.Setup.JudgedUtc;
}
