namespace SetupAudit.Shapes;

/// <summary>The answer before cutting, in the order in which it prevails; none says that cutting may begin.</summary>
public enum ReadyVerdict
{
    /// <summary>No rule found anything of weight, and the last word is fresh.</summary>
    NothingFound,

    /// <summary>What is known is too old, or something that it rests on is missing.</summary>
    Unknown,

    /// <summary>Something was found that a person must look at.</summary>
    Look,

    /// <summary>Something was found that must not be cut with.</summary>
    Stop,
}
