using System.Text.Json;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>One of the lists that <c>list</c> can give.</summary>
/// <param name="Kind">The kind of row it comes from; null where it is put together.</param>
/// <param name="Columns">The columns shown to people.</param>
/// <param name="Fields">The fields written as CSV, in the order of the JSON.</param>
internal sealed record ListWhat(
    string Name, DerivedKind? Kind, IReadOnlyList<ListColumn> Columns, IReadOnlyList<string> Fields)
{
    /// <summary>Whether rows are listed under a moment.</summary>
    public bool KnowsMoments => Kind is not null || IsTimed || Name == "alerts";

    /// <summary>What people did: it comes from the record alone and is never withdrawn.</summary>
    public bool IsTimed { get; init; }

    /// <summary>What is said of a row in sentences below the table.</summary>
    public Func<JsonElement, IEnumerable<string>> Below { get; init; } = _ => [];

    /// <summary>Whether rows have a program, themselves or by their setup.</summary>
    public bool KnowsPrograms => Kind is not (null or DerivedKind.Arrival or DerivedKind.Coverage);
}
