using System.Text.Json;
using SetupAudit.Changes;

namespace SetupAudit.Shapes;

/// <summary>One axis of a register, or one part of a tool, as a setup left it.</summary>
public sealed record OffsetView
{
    /// <summary>As it stood when the setup opened; null where no source had shown it.</summary>
    public decimal? Before { get; init; }

    /// <summary>As the setup left it, or as it stands now while it is open; null where unknown.</summary>
    public decimal? After { get; init; }

    /// <summary>Set in this setup: changed or touched.</summary>
    public required bool Set { get; init; }

    /// <summary>It was set only after cutting had begun, or the setup had gone quiet: too late.</summary>
    public bool Late { get; init; }

    /// <summary>By what it was set; null where it was not.</summary>
    public ChangedBy? By { get; init; }

    /// <summary>A program of the setup moves in it, or its sheet names it.</summary>
    public required bool Needed { get; init; }

    /// <summary>The first moment the value that stands was shown; null where none was.</summary>
    public DateTimeOffset? SinceUtc { get; init; }

    public decimal? Delta => After - Before;

    internal static void Write(Utf8JsonWriter json, OffsetView view)
    {
        json.Number("before", view.Before);
        json.Number("after", view.After);
        json.Flag("set", view.Set);
        json.Flag("late", view.Late);
        json.Choice("by", view.By);
        json.Flag("needed", view.Needed);
        json.Time("since", view.SinceUtc);
    }

    internal static OffsetView Read(JsonElement body) => new()
    {
        Before = body.Number("before"),
        After = body.Number("after"),
        Set = body.FlagOf("set"),
        Late = body.FlagOf("late"),
        By = body.Choice<ChangedBy>("by"),
        Needed = body.FlagOf("needed"),
        SinceUtc = body.Time("since"),
    };
}
