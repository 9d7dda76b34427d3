namespace SetupAudit.Readings.Fuzzing;

/// <summary>What may happen to a file on its way, by accident or on purpose.</summary>
public enum MutationKind
{
    FlipBit,
    SetByte,
    PutToken,
    Cut,
    TakeOut,
    Repeat,
    Splice,
    HugeNumber,
    Nest,
    Case,
    LineEnds,
    Wide,
    EvenParity,
    Nuls,
}
