namespace SetupAudit.Architecture;

/// <summary>A row of the dependency table: a namespace below the root (or one type in it), and what it may use.</summary>
/// <param name="Name">The namespace's or type's name below the root.</param>
/// <param name="MayUse">The rooms it may use besides itself.</param>
/// <param name="Packages">Namespaces of packages that only this room may use, unless another row names them too.</param>
public sealed record Room(string Name, IReadOnlyList<string> MayUse, IReadOnlyList<string> Packages);
