namespace SetupAudit.Accuracy.Shops;

/// <summary>How the datums of a job are set, and what is told of it.</summary>
internal enum SettingWay
{
    /// <summary>Probed, and a print-out tells each touch with its value.</summary>
    Probed,

    /// <summary>Probed, and only the next dump shows it.</summary>
    ProbedSilently,

    /// <summary>With an edge finder and a gauge, typed in; only the next dump shows it.</summary>
    ByHand,
}
