using SetupAudit.Datums;

namespace SetupAudit.Findings.Causes;

/// <summary>An ordinary mistake as a hypothesis: which values an offset would read had it happened.</summary>
internal interface ICauseModel
{
    /// <summary>As contract section 6 names it.</summary>
    string Name { get; }

    Manner Manner { get; }

    /// <summary>How likely the other axes of the register took part, where one did: high for a mistake made on all at
    /// once.</summary>
    double Together { get; }

    /// <summary>How likely an offset of that kind is among those that such a mistake hits; the likeliest kind has about
    /// 1.</summary>
    double Share(OffsetKey key);

    /// <summary>The values it predicts for an offset; none where it cannot happen there. Weights need not sum to
    /// 1.</summary>
    IEnumerable<Guess> Guesses(CauseQuestion question, OffsetKey key);
}
