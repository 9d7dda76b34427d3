using System.Text.Json;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>The lists there are, with their columns and fields.</summary>
internal static class ListKinds
{
    public static IReadOnlyList<ListWhat> All { get; } =
    [
        new("machines", null,
            [
                ListColumn.Of("machine"), ListColumn.Of("kind"), ListColumn.Of("units"), ListColumn.Count("sources"),
                ListColumn.Time("last"), ListColumn.Time("horizon"), ListColumn.Of("openSetup", "open setup"),
                ListColumn.Number("setups"), ListColumn.Number("findings"), ListColumn.Number("unreadable"),
                ListColumn.Number("backlog"), ListColumn.Of("state"),
            ],
            [
                "machine", "kind", "units", "sources", "last", "horizon", "openSetup", "setups", "changes", "findings",
                "cycles", "arrivals", "unreadable", "backlog", "state", "fault", "shares",
            ])
        {
            Below = MachineLine.Faults,
        },
        new("setups", DerivedKind.Setup,
            [
                ListColumn.Of("setup"), ListColumn.Of("status"), ListColumn.Time("opened"), ListColumn.Time("closed"),
                ListColumn.Of("programs"), ListColumn.Of("setter"), ListColumn.Items("registers", SetAxes, "set"),
                ListColumn.Count("findings"),
            ],
            [
                "setup", "machine", "pallet", "opened", "closed", "status", "programs", "setter", "unit", "lastEvent",
                "cutting", "judged", "registers", "tools", "measurements", "changes", "adjustments", "cycles",
                "findings", "review",
            ]),
        new("changes", DerivedKind.Change,
            [
                ListColumn.Time("to"), ListColumn.Of("machine"), ListColumn.Key(), ListColumn.Number("before"),
                ListColumn.Number("after"), ListColumn.Number("delta"), ListColumn.Of("unit"), ListColumn.Of("by"),
                ListColumn.Of("setup"),
            ],
            [
                "change", "machine", "register", "axis", "tool", "of", "before", "after", "delta", "unit", "from",
                "to", "arrival", "file", "sha256", "line", "setup", "by", "bySays", "touched", "adjustment",
            ]),
        new("findings", DerivedKind.Finding,
            [
                ListColumn.Time("at"), ListColumn.Of("severity"), ListColumn.Of("rule"), ListColumn.Of("machine"),
                ListColumn.Key(), ListColumn.Of("message"),
            ],
            [
                "finding", "rule", "severity", "machine", "setup", "register", "axis", "tool", "of", "value",
                "expected", "unit", "message", "at", "evidence", "causes",
            ]),
        new("measurements", DerivedKind.Measurement,
            [
                ListColumn.Time("at"), ListColumn.Of("machine"), ListColumn.Of("feature"), ListColumn.Of("register"),
                ListColumn.Number("size"), ListColumn.Number("angle"), ListColumn.Number("x"), ListColumn.Number("y"),
                ListColumn.Number("z"), ListColumn.Number("nominal"), ListColumn.Number("deviation"),
                ListColumn.Of("unit"),
            ],
            [
                "machine", "setup", "at", "feature", "register", "size", "angle", "x", "y", "z", "nominal", "low",
                "high", "deviation", "unit", "file", "sha256", "line",
            ]),
        .. Rest(),
        .. Said(),
    ];

    public static ListWhat Find(string name) => All.First(what => what.Name == name);

    private static IReadOnlyList<ListWhat> Rest() =>
    [
        new("programs", DerivedKind.Program,
            [
                ListColumn.Of("program"), ListColumn.Of("title"), ListColumn.Of("machine"), ListColumn.Of("units"),
                ListColumn.Items("registers", Cuts),
                ListColumn.Items("tools", item => $"T{ListColumn.Plain(item, "tool")}"),
                ListColumn.Count("writes"), ListColumn.Number("lines"), ListColumn.Time("modified"),
            ],
            [
                "program", "title", "machine", "units", "sha256", "file", "modified", "lines", "registers", "tools",
                "writes", "probing", "missing",
            ]),
        new("cycles", DerivedKind.Cycle,
            [
                ListColumn.Time("start"), ListColumn.Time("end"), ListColumn.Of("ended"), ListColumn.Of("machine"),
                ListColumn.Of("program"), ListColumn.Of("part"), ListColumn.Of("serial"), ListColumn.Of("pallet"),
                ListColumn.Of("order"),
            ],
            [
                "machine", "setup", "program", "start", "end", "ended", "part", "serial", "pallet", "order", "count",
                "underLift", "file", "sha256", "line",
            ]),
        new("arrivals", DerivedKind.Arrival,
            [
                ListColumn.Time("moment"), ListColumn.Of("machine"), ListColumn.Of("status"), ListColumn.Of("file"),
                ListColumn.Number("bytes"), ListColumn.Number("line"), ListColumn.Number("column"),
                ListColumn.Of("reason"), ListColumn.Time("dropped"),
            ],
            [
                "arrival", "machine", "file", "sha256", "bytes", "modified", "moment", "received", "status", "reason",
                "line", "column", "dropped",
            ]),
        new("coverage", null,
            [
                ListColumn.Of("machine"), ListColumn.Of("source"), ListColumn.Of("tells"), ListColumn.Time("last"),
                ListColumn.Of("cannotTell", "cannot tell"),
            ],
            ["machine", "source", "tells", "last", "cannotTell"]),
    ];

    private static IReadOnlyList<ListWhat> Said() =>
    [
        new("reviews", null,
            [
                ListColumn.Time("at"), ListColumn.Of("shownOn", "setup"), ListColumn.Of("verdict"), ListColumn.Of("by"),
                ListColumn.Of("signed"), ListColumn.Of("reason"), ListColumn.Of("cause"), ListColumn.Of("superseded"),
                ListColumn.Of("queriedBecause", "queried again"),
            ],
            [
                "review", "machine", "setup", "by", "person", "role", "verdict", "reason", "cause", "at", "atLocal",
                "signed", "words", "signedSha256", "shownOn", "superseded", "queriedBecause",
            ])
        {
            IsTimed = true,
        },
        new("trail", null,
            [
                ListColumn.Number("number"), ListColumn.Time("at"), ListColumn.Of("kind"), ListColumn.Of("by"),
                ListColumn.Of("signed"), ListColumn.Of("machine"), ListColumn.Of("what"),
            ],
            ["number", "at", "kind", "by", "signed", "machine", "setup", "what", "said"])
        {
            IsTimed = true,
        },
        new("alerts", null,
            [
                ListColumn.Time("at"), ListColumn.Of("severity"), ListColumn.Of("finding"), ListColumn.Of("status"),
                ListColumn.Items("messages", Sent, "sent to"), ListColumn.Of("why"),
            ],
            [
                "finding", "rule", "severity", "machine", "setup", "at", "seen", "step", "status", "why", "messages",
            ]),
    ];

    private static string Sent(JsonElement item)
    {
        string Of(string field) => ListColumn.Plain(item, field);
        return $"{Of("channel")} {Of("to")}: {Of("outcome")} ({Of("kind")}, try {Of("tries")})";
    }

    private static string Cuts(JsonElement item)
    {
        var mark = ListColumn.Plain(item, "cuts") switch
        {
            "true" => "",
            "false" => "(no cut)",
            _ => "(?)",
        };
        return ListColumn.Plain(item, "register") + mark;
    }

    // G54.XY: the axes that the setup set.
    private static string SetAxes(JsonElement item)
    {
        var axes = item.GetProperty("axes").EnumerateObject().Where(axis => axis.Value.GetProperty("set").GetBoolean())
            .Select(axis => axis.Name).ToList();
        return axes.Count == 0 ? "" : $"{ListColumn.Plain(item, "register")}.{string.Concat(axes)}";
    }
}
