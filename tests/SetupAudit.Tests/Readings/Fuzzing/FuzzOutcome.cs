namespace SetupAudit.Readings.Fuzzing;

/// <summary>What came of reading a hostile input, as far as it is the same for every reader.</summary>
/// <param name="Places">Line and column of every reading and fault; 0 stands for the file as a whole.</param>
/// <param name="Said">A reading in words, in the order of the file.</param>
public sealed record FuzzOutcome(
    IReadOnlyList<(int Line, int Column)> Places, IReadOnlyList<string> Said, int Faults);
