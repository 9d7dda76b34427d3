namespace SetupAudit.Readings.Fuzzing;

/// <summary>One thing that happens to a file.</summary>
/// <param name="Where">The place in it, as a part of 65,536.</param>
/// <param name="Size">How much of it: bytes, times, or which of several ways.</param>
/// <param name="Pick">Which bit, byte, word or other file.</param>
public readonly record struct Mutation(MutationKind Kind, ushort Where, ushort Size, ushort Pick);
