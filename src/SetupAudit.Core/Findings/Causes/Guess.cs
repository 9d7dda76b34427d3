namespace SetupAudit.Findings.Causes;

/// <summary>One value that a cause predicts for an offset.</summary>
/// <param name="Value">The value it would read.</param>
/// <param name="Factor">How much of the usual variation the mistake carries along: 25.4 where inches were read as mm; 0
/// where a value is copied to the last digit.</param>
/// <param name="Extra">Variation of its own, as a standard deviation.</param>
/// <param name="Weight">Its share among the guesses of the cause.</param>
/// <param name="Says">What it is, in words: "a 20 mm riser".</param>
internal sealed record Guess(double Value, double Factor, double Extra, double Weight, string Says)
{
    /// <summary>The offset whose variation it carries where that is another one's: a swapped axis, another register.
    /// Null for its own.</summary>
    public Usual? VariesAs { get; init; }
}
