namespace SetupAudit.Alerts.Letters;

/// <summary>What a line of a message is for.</summary>
internal enum LetterRole
{
    /// <summary>That it is late, before all else.</summary>
    Late,

    Lead,

    /// <summary>The lead of a message that tells a stop which holds.</summary>
    Stop,

    /// <summary>Begins a finding: its severity, rule and time.</summary>
    Heading,

    Sentence,

    /// <summary>A line below a sentence: what moved, the likely cause.</summary>
    Detail,

    /// <summary>What ran since, and what is not listed.</summary>
    Since,

    /// <summary>The address of the setup's report.</summary>
    Link,

    /// <summary>The address of the page that shows every machine.</summary>
    Page,

    Caution,

    /// <summary>From whom, and the id.</summary>
    Foot,
}
