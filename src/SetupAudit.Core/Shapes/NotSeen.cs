namespace SetupAudit.Shapes;

/// <summary>
/// What moves a cutting point and no source shows: named in reports and in <c>ready</c>, never passed over.
/// </summary>
public static class NotSeen
{
    public static IReadOnlyList<string> Always { get; } =
    [
        "shifts within a program: G52, and G92 where no dump shows it",
        "rotation by G68, mirror image, scaling and tilted planes",
        "keys and switches at the control: single block, block delete, machine lock, handle shift",
        "which program text and which offsets the control really holds, beyond what its files show",
        "the part, the fixture and the tools themselves",
    ];
}
