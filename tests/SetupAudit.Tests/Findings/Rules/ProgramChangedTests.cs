using SetupAudit.Findings.Support;
using SetupAudit.Readings;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class ProgramChangedTests
{
    private const string Rule = "program-changed";

    private static ProgramText Text(
        string modified, string hash, string? code = null, string? title = null, string program = "O2041", string? calls = null) =>
        new()
        {
            Program = program,
            Title = title,
            Sha256 = hash,
            WithoutCommentsSha256 = code ?? hash,
            File = $"shares/mill-3/programs/{program}.nc",
            ModifiedUtc = When.At(modified),
            Lines = 400,
            Steps = calls is null ? [] : [new ProgramStep { Line = 9, Calls = calls }],
        };

    private static CaseBuilder Twice(params ProgramText[] texts) => texts.Aggregate(
        new CaseBuilder().LastCycle("O2041", "03-01 16:00", "03-01 16:10").Cycle("O2041", "09:30", "09:40"),
        (builder, text) => builder.Version(text));

    [Fact]
    public void Other_text_between_two_cycles_is_found()
    {
        var finding = Assert.Single(Twice(Text("02-20 08:00", "a1"), Text("09:00", "b2")).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/program-changed/O2041", finding.Id);
        Assert.Equal((Severity.High, When.At("09:30")), (finding.Severity, finding.AtUtc));
        Assert.Equal(
            "O2041 came back with other text, written 2026-03-02 09:00, between the cycle of 2026-03-01 16:00 and the cycle of "
            + "2026-03-02 09:30: what it does may differ (400 lines before, 400 now).", finding.Message);
        Assert.Equal(4, finding.Evidence.Count);
    }

    [Fact]
    public void Other_comments_alone_are_a_note() =>
        Assert.Equal(Severity.Note,
            Assert.Single(Twice(Text("02-20 08:00", "a1", "same"), Text("09:00", "b2", "same")).Found(Rule)).Severity);

    [Fact]
    public void The_same_text_written_again_is_the_same() =>
        Assert.Empty(Twice(Text("02-20 08:00", "a1"), Text("09:00", "a1")).Found(Rule));

    [Fact]
    public void Text_that_was_there_and_gone_between_two_cycles_ran_in_neither() =>
        Assert.Empty(Twice(Text("02-20 08:00", "a1"), Text("08:00", "b2"), Text("09:00", "a1")).Found(Rule));

    [Fact]
    public void Text_written_before_the_first_or_after_the_last_cycle_is_not_between() =>
        Assert.Empty(Twice(Text("02-20 08:00", "a1"), Text("03-01 15:00", "b2"), Text("10:00", "c3")).Found(Rule));

    [Fact]
    public void Text_that_was_first_read_later_says_nothing_about_what_ran_before() =>
        Assert.Empty(Twice(Text("09:00", "b2")).Found(Rule));

    [Fact]
    public void One_cycle_alone_has_no_between() =>
        Assert.Empty(new CaseBuilder().Cycle("O2041", "09:30", "09:40")
            .Version(Text("02-20 08:00", "a1")).Version(Text("09:00", "b2")).Found(Rule));

    [Fact]
    public void A_number_that_serves_every_part_is_told_apart_by_its_title() =>
        Assert.Empty(Twice(Text("02-20 08:00", "a1", title: "PUMP COVER"), Text("09:00", "b2", title: "BRACKET")).Found(Rule));

    [Fact]
    public void Between_two_cycles_of_one_setup_it_is_found_too() =>
        Assert.Equal(When.At("10:10"), Assert.Single(new CaseBuilder().Cycle("O2041", "09:30", "09:40")
            .Cycle("O2041", "10:10", "10:20").Version(Text("02-20 08:00", "a1")).Version(Text("10:00", "b2")).Found(Rule)).AtUtc);

    [Fact]
    public void A_called_program_that_came_back_with_other_text_is_found()
    {
        var finding = Assert.Single(Twice(Text("02-20 08:00", "a1", calls: "O100"),
            Text("02-20 08:00", "c1", program: "O100"), Text("09:00", "c2", program: "O100")).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/program-changed/O100", finding.Id);
        Assert.StartsWith("O100, which O2041 calls, came back with other text", finding.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_person_who_asks_is_told_before_the_next_cycle() =>
        Assert.Contains("between the cycle of 2026-03-01 16:00 and now", Assert.Single(new CaseBuilder()
            .LastCycle("O2041", "03-01 16:00", "03-01 16:10").Program("O2041")
            .Version(Text("09:00", "b2")).AskedAt("09:10").Found(Rule)).Message, StringComparison.Ordinal);
}
