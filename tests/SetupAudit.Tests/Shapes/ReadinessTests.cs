using System.Text.Json;
using SetupAudit.Findings;
using SetupAudit.Findings.Support;
using SetupAudit.Shop;

namespace SetupAudit.Shapes;

public sealed class ReadinessTests
{
    private static CaseBuilder Job() => new CaseBuilder()
        .Held("G54", -410.2m, -205.1m, -318.204m, "07:10")
        .Program("O2041", program => program.Cuts("G54"));

    [Fact]
    public void Nothing_found_and_a_fresh_word_is_nothing_found_as_of_that_word()
    {
        var ready = Ask(Job(), "07:40");

        Assert.Equal(ReadyVerdict.NothingFound, ready.Verdict);
        Assert.Equal(When.At("07:10"), ready.AsOfUtc);
        Assert.Empty(ready.Unknown);
    }

    [Fact]
    public void A_word_older_than_the_shop_allows_is_unknown()
    {
        Assert.Equal(ReadyVerdict.NothingFound, Ask(Job(), "08:10").Verdict);
        Assert.Equal(ReadyVerdict.Unknown, Ask(Job(), "08:11").Verdict);
    }

    [Fact]
    public void A_fresh_word_about_one_axis_does_not_make_another_fresh()
    {
        var ready = Ask(Job().Held("G54.Z", -318.204m, "06:00").Touched("G54.X", "07:35", -398m), "07:40");

        Assert.Equal((ReadyVerdict.Unknown, When.At("06:00")), (ready.Verdict, ready.AsOfUtc));
    }

    [Fact]
    public void What_the_program_does_not_need_does_not_make_the_word_old() =>
        Assert.Equal(ReadyVerdict.NothingFound, Ask(Job().Held("G59", 1m, 2m, 3m, "02-27 06:00"), "07:40").Verdict);

    [Fact]
    public void A_cycle_after_the_last_word_is_unknown()
    {
        Assert.Equal(ReadyVerdict.Unknown, Ask(Job(), "07:40", lastCycle: "07:20").Verdict);
        Assert.Equal(ReadyVerdict.NothingFound, Ask(Job(), "07:40", lastCycle: "07:05").Verdict);
    }

    [Fact]
    public void A_program_written_after_the_last_word_is_unknown() =>
        Assert.Contains("O2041 was written after the last word",
            Ask(Job().Program("O2041", program => program.Cuts("G54").ReadLater("07:30")), "07:40").Unknown);

    [Fact]
    public void A_program_that_names_nothing_is_unknown() =>
        Assert.Contains("the text of O2041 selects no register and calls no tool",
            Ask(Job().Program("O2041", program => program.Title("MADE UP")), "07:40").Unknown);

    [Fact]
    public void What_stands_against_a_value_that_an_earlier_setup_left_is_looked_at()
    {
        var earlier = FindingView.From(new Finding
        {
            Id = "x",
            Rule = "over-limit",
            Severity = Severity.High,
            Machine = "m",
            Message = "X moved.",
            AtUtc = When.At("07:00"),
        }, Units.Unit.Millimetre);

        var ready = Ask(Job(), "07:40", earlier: earlier);

        Assert.Equal(ReadyVerdict.Look, ready.Verdict);
        Assert.Contains(ready.Findings, finding => finding.Message == "X moved.");
    }

    [Fact]
    public void A_called_program_that_is_missing_is_unknown()
    {
        var ready = Ask(Job().Program("O7", program => program.Cuts("G54").Missing("O8")), "07:40");

        Assert.Equal(ReadyVerdict.Unknown, ready.Verdict);
        Assert.Contains("O7 calls O8, which has not been read", ready.Unknown);
    }

    [Fact]
    public void No_program_is_unknown() =>
        Assert.Equal(ReadyVerdict.Unknown, Ask(new CaseBuilder().Held("G54", 1m, 2m, 3m, "07:10"), "07:40").Verdict);

    [Fact]
    public void No_evidence_at_all_is_unknown()
    {
        var ready = Ask(new CaseBuilder(), "07:40");

        Assert.Equal((ReadyVerdict.Unknown, null), (ready.Verdict, ready.AsOfUtc));
    }

    [Theory]
    [InlineData(Severity.Note, ReadyVerdict.NothingFound)]
    [InlineData(Severity.Low, ReadyVerdict.Look)]
    [InlineData(Severity.High, ReadyVerdict.Look)]
    [InlineData(Severity.Stop, ReadyVerdict.Stop)]
    public void What_was_found_decides(Severity severity, ReadyVerdict verdict) =>
        Assert.Equal(verdict, Ask(Job(), "07:40", severity).Verdict);

    [Fact]
    public void What_was_found_prevails_over_an_old_word() =>
        Assert.Equal(ReadyVerdict.Stop, Ask(Job(), "11:00", Severity.Stop).Verdict);

    [Fact]
    public void The_answer_has_the_fields_of_the_contract()
    {
        var body = JsonElement.Parse(ShapeBody.Of(Ask(Job(), "07:40")));

        Assert.Equal("nothing-found", body.GetProperty("verdict").GetString());
        Assert.Equal("2026-03-02T07:10:00Z", body.GetProperty("asOf").GetString());
        var z = body.GetProperty("registers")[0].GetProperty("axes").GetProperty("Z");
        Assert.Equal(-318.204m, z.GetProperty("value").GetDecimal());
        Assert.False(z.GetProperty("set").GetBoolean());
        Assert.Equal("2026-03-02T07:10:00Z", z.GetProperty("at").GetString());
        Assert.Equal(JsonValueKind.Null, z.GetProperty("by").ValueKind);
        Assert.NotEqual(0, body.GetProperty("notSeen").GetArrayLength());
    }

    [Fact]
    public void A_source_that_cannot_be_read_leaves_the_answer_open_and_is_named()
    {
        var ready = Ask(Job(), "07:40", unread: [new UnreadSource("prints", When.At("07:05")), new UnreadSource("tables", DateTimeOffset.MinValue)]);

        Assert.Equal(ReadyVerdict.Unknown, ready.Verdict);
        Assert.Contains("prints cannot be read now: what it would show is not in this answer", ready.Unknown);
        var without = JsonElement.Parse(ShapeBody.Of(ready)).GetProperty("foundWithout");
        Assert.Equal("prints", without[0].GetProperty("source").GetString());
        Assert.Equal("2026-03-02T07:05:00Z", without[0].GetProperty("readUntil").GetString());
        Assert.Equal(JsonValueKind.Null, without[1].GetProperty("readUntil").ValueKind);
    }

    private static ReadyView Ask(CaseBuilder job, string now, Severity? found = null, string? lastCycle = null,
        IReadOnlyList<UnreadSource>? unread = null, FindingView? earlier = null)
    {
        var built = job.Build();
        Finding[] findings = found is { } severity
            ? [new() { Id = "x", Rule = "r", Severity = severity, Machine = "m", Message = "x", AtUtc = When.At(now) }]
            : [];
        return Readiness.Of(new ReadyCase
        {
            Machine = built.Machine,
            Setup = built.Setup,
            Programs = built.Programs,
            Findings = findings,
            HasSetup = true,
            NowUtc = When.At(now),
            Fresh = TimeSpan.FromMinutes(60),
            Unread = unread ?? [],
            Earlier = earlier is null ? [] : [earlier],
            LastCycleUtc = lastCycle is null ? null : When.At(lastCycle),
        });
    }
}
