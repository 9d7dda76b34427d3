using System.Text.Json;
using SetupAudit.Datums;
using SetupAudit.Reports;
using SetupAudit.Store;

namespace SetupAudit.Commands;

public sealed class StateCommandTests : IDisposable
{
    private readonly CommandBench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public async Task A_state_shows_the_value_that_stood_then_and_since_when()
    {
        var x = await OffsetAsync("2026-03-02T07:30:00Z", "X");

        Assert.Equal("-412.250", x.GetProperty("value").GetRawText());
        Assert.Equal("2026-03-02T07:14:00Z", x.GetProperty("at").GetString());
        Assert.Equal("measured", x.GetProperty("by").GetString());
        Assert.Equal(JsonValueKind.Null, x.GetProperty("maybe").ValueKind);
    }

    [Fact]
    public async Task Between_two_sights_either_value_may_have_stood_and_the_state_says_so()
    {
        var z = await OffsetAsync("2026-03-02T07:13:30Z", "Z");

        Assert.Equal("-300.0", z.GetProperty("value").GetRawText());
        Assert.Equal("-310.450", z.GetProperty("maybe").GetProperty("value").GetRawText());
    }

    [Fact]
    public async Task A_touch_has_its_moment_from_the_print_out_and_leaves_no_doubt()
    {
        var seen = MadeUp.Change(OffsetKey.Datum(Register.System(1), Axis.Z), 0m, -300.0m, 1) with { Before = null };
        var touched = MadeUp.Change(OffsetKey.Datum(Register.System(1), Axis.Z), -300.0m, -310.450m, 4);
        await _bench.FillAsync(
            CommandBench.Row(DerivedKind.Change, seen.Change, seen.ToUtc, seen),
            CommandBench.Row(DerivedKind.Change, touched.Change, touched.ToUtc, touched));

        var (_, written, _) = await _bench.RunAsync("state", "--machine", "mill-3", "--at", "2026-03-02T07:13:30Z", "--json");

        var z = JsonElement.Parse(written).GetProperty("registers")[0].GetProperty("axes").GetProperty("Z");
        Assert.Equal(JsonValueKind.Null, z.GetProperty("maybe").ValueKind);
    }

    [Fact]
    public async Task What_had_not_been_seen_by_then_is_left_out()
    {
        await FillAsync();

        var state = JsonElement.Parse(
            (await _bench.RunAsync("state", "--machine", "mill-3", "--at", "2026-03-01", "--json")).Out);

        Assert.Equal(0, state.GetProperty("registers").GetArrayLength());
        Assert.Equal(JsonValueKind.Null, state.GetProperty("lastEvidence").ValueKind);
    }

    [Fact]
    public async Task A_state_for_people_says_how_old_the_last_evidence_is()
    {
        await FillAsync();

        var (status, written, _) = await _bench.RunAsync("state", "--machine", "mill-3", "--at", "2026-03-02T07:44:00Z");

        Assert.Equal(0, status);
        Assert.Contains("(30 minutes old)", written, StringComparison.Ordinal);
        Assert.Matches(@"(?m)^G54\.X\s+-412\.250\s+mm", written);
    }

    private async Task<JsonElement> OffsetAsync(string at, string axis)
    {
        await FillAsync();
        var (status, written, errors) = await _bench.RunAsync("state", "--machine", "mill-3", "--at", at, "--json");
        Assert.True(status == 0, errors);
        return JsonElement.Parse(written).GetProperty("registers")[0].GetProperty("axes").GetProperty(axis);
    }

    private Task FillAsync()
    {
        var key = OffsetKey.Datum(Register.System(1), Axis.Z);
        var seen = MadeUp.Change(key, 0m, -300.0m, 1) with { Before = null, Delta = null, FromUtc = null, Touched = false };
        var moved = MadeUp.Change(key, -300.0m, -310.450m, 4) with { Touched = false };
        return _bench.FillAsync(
            CommandBench.Row(DerivedKind.Change, seen.Change, seen.ToUtc, seen, null),
            CommandBench.Row(DerivedKind.Change, moved.Change, moved.ToUtc, moved));
    }
}
