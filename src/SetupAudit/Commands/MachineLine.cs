using System.Text.Json;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Units;

namespace SetupAudit.Commands;

/// <summary>A machine as <c>list machines</c> gives it.</summary>
internal sealed record MachineLine(MachineConfig Machine) : IShape
{
    /// <summary>The moment the newest of its evidence speaks of; null where there is none.</summary>
    public DateTimeOffset? LastUtc { get; init; }

    /// <summary>Up to here its sources are known to have been read; null before the first clean scan.</summary>
    public DateTimeOffset? HorizonUtc { get; init; }

    /// <summary>The setup that still goes on; null where none does.</summary>
    public string? OpenSetup { get; init; }

    /// <summary>Where its watched folders stand, as the service or the last run said.</summary>
    public IReadOnlyList<SourceStanding> Shares { get; init; } = [];

    /// <summary>Whether a service watches them now.</summary>
    public bool IsWatched { get; init; }

    /// <summary>Why the service takes nothing in now; null where it does, or none runs.</summary>
    public string? Fault { get; init; }

    public MachineCounts Counts { get; init; } = new();

    /// <summary>
    /// unwatched, fault (one of its folders cannot be read now, or nothing can be kept), starting or watched.
    /// </summary>
    public string State => !IsWatched ? "unwatched"
        : Fault is not null || Shares.Any(share => share.Fault is not null) ? "fault"
        : Shares.Any(share => share.CleanUtc is null) ? "starting"
        : "watched";

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.WriteString("machine", Machine.Name);
        json.WriteString("kind", Word.Of(Machine.Kind));
        json.WriteString("units", Length.ShortName(Machine.Units));
        json.WriteStartArray("sources");
        foreach (var watch in Machine.Watch) json.WriteStringValue(Coverage.SourceName(watch));
        json.WriteEndArray();
        json.WriteString("last", LastUtc is { } last ? Word.Of(last) : null);
        json.WriteString("horizon", HorizonUtc is { } horizon ? Word.Of(horizon) : null);
        json.WriteString("openSetup", OpenSetup);
        json.WriteNumber("setups", Counts.Setups);
        json.WriteNumber("changes", Counts.Changes);
        json.WriteNumber("findings", Counts.Findings);
        json.WriteNumber("cycles", Counts.Cycles);
        json.WriteNumber("arrivals", Counts.Arrivals);
        json.WriteNumber("unreadable", Counts.Unreadable);
        json.WriteNumber("backlog", Counts.Backlog);
        json.WriteString("state", State);
        json.WriteString("fault", Fault);
        json.WriteStartArray("shares");
        foreach (var share in Shares) Write(json, share);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    /// <summary>
    /// Why a machine's state is not "watched", as sentences: what is known of a service that has ended is of yesterday.
    /// </summary>
    public static IEnumerable<string> Faults(JsonElement row)
    {
        if (row.GetProperty("state").GetString() != "fault") yield break;
        var machine = row.GetProperty("machine").GetString();
        if (row.GetProperty("fault").GetString() is { } fault)
            yield return $"{machine}: nothing is taken in now: {fault}";
        foreach (var share in row.GetProperty("shares").EnumerateArray())
            if (share.GetProperty("fault").GetString() is { } why)
                yield return $"{machine}: {share.GetProperty("source").GetString()} cannot be read now: {why}.";
    }

    private static void Write(Utf8JsonWriter json, SourceStanding share)
    {
        json.WriteStartObject();
        json.WriteString("source", share.Source);
        json.WriteString("fault", share.Fault);
        json.WriteString("clean", share.CleanUtc is { } clean ? Word.Of(clean) : null);
        json.WriteNumber("blockedSeconds", share.BlockedSeconds);
        json.WriteNumber("files", share.Files);
        json.WriteNumber("pending", share.Pending);
        json.WriteNumber("tornReads", share.TornReads);
        json.WriteEndObject();
    }
}
