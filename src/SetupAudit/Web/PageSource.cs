namespace SetupAudit.Web;

/// <summary>Gives the pages for people, each a whole HTML document made anew.</summary>
/// <param name="First">The machines and their last setups; never null.</param>
/// <param name="Setup">The report of the setup of this id; null where there is none.</param>
public sealed record PageSource(
    Func<CancellationToken, Task<string?>> First, Func<string, CancellationToken, Task<string?>> Setup);
