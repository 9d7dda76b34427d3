namespace SetupAudit.Shop.Configuration;

/// <summary>One entry of a machine's ProbingCalls: how a program calls a probing routine of the shop's.</summary>
internal static class ProbingCallSection
{
    public static ObjectShape Shape { get; } = new("an object with Call and Kind",
    [
        new("Call", Values.TextAs("the words of a call, such as G65 P7040")) { IsRequired = true },
        new("Kind", Values.TextAs("what the routine does, such as single-surface")) { IsRequired = true },
        new("Search", Values.Letter),
        new("Sets", Values.Axes),
        new("Register", Values.Letter),
    ]);

    /// <summary>The entry; null where it has no Call or Kind.</summary>
    public static ProbingCall? Read(ConfigNode node, int index) =>
        !Values.Text.TryRead(node["Call"], out var call) || !Values.Text.TryRead(node["Kind"], out var kind) ? null
            : new ProbingCall
            {
                Index = index,
                Call = call,
                Kind = kind,
                Search = Values.Letter.OrNull(node["Search"]),
                Sets = Values.Axes.Read(node["Sets"], []),
                Register = Values.Letter.OrNull(node["Register"]),
            };
}
