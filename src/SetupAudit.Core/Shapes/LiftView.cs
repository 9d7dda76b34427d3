using System.Text.Json;
using SetupAudit.Datums;
using SetupAudit.Setups;

namespace SetupAudit.Shapes;

/// <summary>A Z raised before production, and what it was put back to.</summary>
public sealed record LiftView(
    OffsetKey Key, decimal Start, decimal Raised, decimal? PutTo, DateTimeOffset RaisedUtc)
{
    public DateTimeOffset? PutUtc { get; init; }

    internal static LiftView Of(Lift lift) =>
        new(lift.Key, lift.Start, lift.Raised, lift.PutTo, lift.RaisedUtc) { PutUtc = lift.PutUtc };

    internal static void Write(Utf8JsonWriter json, LiftView view)
    {
        json.Key(view.Key);
        json.Number("start", view.Start);
        json.Number("raised", view.Raised);
        json.Number("putTo", view.PutTo);
        json.Time("raisedAt", view.RaisedUtc);
        json.Time("putAt", view.PutUtc);
    }

    internal static LiftView Read(JsonElement body) => new(
        body.Key(),
        body.Number("start") ?? throw new FormatException("a lift without a start"),
        body.Number("raised") ?? throw new FormatException("a lift without a height"),
        body.Number("putTo"),
        body.TimeOf("raisedAt"))
    {
        PutUtc = body.Time("putAt"),
    };
}
