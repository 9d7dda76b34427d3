using SetupAudit.Alerts.Support;
using SetupAudit.Findings;
using SetupAudit.Shop;
using SetupAudit.Support;
using SetupAudit.Units;

namespace SetupAudit.Alerts.Letters;

public sealed class LetterWriterTests
{
    private static readonly DateTimeOffset SoonUtc = SomeAlert.QueuedUtc.AddSeconds(15);

    [Fact]
    public void A_raised_message_reads_so() => Snapshot.Holds(Text(SomeAlert.Raised, SoonUtc));

    [Fact]
    public void Its_HTML_reads_so() => Snapshot.Holds(HtmlLetter.Of(LetterWriter.Of(SomeAlert.Raised, SoonUtc)), "html");

    [Fact]
    public void Its_JSON_reads_so() => Snapshot.Holds(
        System.Text.Encoding.UTF8.GetString(AlertJson.Document(SomeAlert.Raised, SoonUtc)), "json");

    [Fact]
    public void A_late_one_says_its_age_first() =>
        Snapshot.Holds(Text(SomeAlert.Raised, SomeAlert.QueuedUtc.AddHours(3).AddMinutes(12)));

    [Fact]
    public void A_cleared_one_reads_so() => Snapshot.Holds(Text(SomeAlert.Raised with
    {
        Kind = AlertKind.Cleared,
        Findings = [SomeAlert.Jump with { Cleared = true, Because = "X of G54 was touched again at 07:20 and agrees." }],
    }, SoonUtc));

    [Fact]
    public void A_reminder_reads_so() => Snapshot.Holds(Text(
        SomeAlert.Raised with { Kind = AlertKind.Reminder, Findings = [SomeAlert.AxisNotSet] }, SoonUtc));

    [Fact]
    public void A_digest_counts_what_it_does_not_list() => Snapshot.Holds(Text(SomeAlert.Raised with
    {
        Kind = AlertKind.Digest,
        Setup = null,
        Severity = Severity.High,
        Findings = [SomeAlert.Jump],
        Remainder = 999,
        RanSince = null,
        ReportLink = null,
    }, SoonUtc));

    [Fact]
    public void A_test_says_that_nothing_was_found() => Snapshot.Holds(Text(SomeAlert.Raised with
    {
        Kind = AlertKind.Test,
        Findings = [],
        Setup = null,
        RanSince = null,
        Severity = Severity.Note,
    }, SoonUtc));

    [Theory]
    [InlineData(-310.2, -297.8, 12.4, null, "Z of G54 moved from -310.2 to -297.8 mm, by +12.4 mm.")]
    [InlineData(-297.8, -310.2, null, 0.5, "Z of G54 moved from -297.8 to -310.2 mm, by -12.4 mm; its limit is 0.5 mm.")]
    [InlineData(null, -310.2, null, null, "Z of G54 is -310.2 mm; nothing was known of it before.")]
    [InlineData(-310.2, null, null, null, "Z of G54 was -310.2 mm and has no value now.")]
    [InlineData(null, null, null, 0.5, "Z of G54 has no value; its limit is 0.5 mm.")]
    public void A_move_is_told_with_its_unit(double? before, double? after, double? delta, double? limit, string told) =>
        Assert.Equal(told, AlertWords.Move(
            new("Z of G54", (decimal?)before, (decimal?)after, (decimal?)delta, Unit.Millimetre) { Limit = (decimal?)limit }));

    [Fact]
    public void A_number_keeps_the_digits_that_the_file_had() => Assert.Equal(
        "X of G54 moved from -400.0100 to -397.000 mm, by +3.0100 mm.",
        AlertWords.Move(new("X of G54", -400.0100m, -397.000m, null, Unit.Millimetre)));

    [Theory]
    [InlineData("riser-height", 0.625, "Most likely, by estimate (63 in 100): riser height. Because.")]
    [InlineData("fixture-moved", 1, "Most likely, by estimate (100 in 100): none of the known slips; the part or fixture "
        + "itself may have moved. Because.")]
    public void A_cause_is_told_as_an_estimate(string cause, decimal probability, string told) =>
        Assert.Equal(told, AlertWords.LikelyCause(new Cause(cause, probability, null, "Because.")));

    [Theory]
    [InlineData(45, "45 s")]
    [InlineData(14 * 60, "14 min")]
    [InlineData(3 * 3600 + 12 * 60, "3 h 12 min")]
    [InlineData(26 * 3600, "1 day 2 h")]
    [InlineData(50 * 3600, "2 days 2 h")]
    public void An_age_is_told_in_its_largest_units(int seconds, string told) =>
        Assert.Equal(told, AlertWords.Span(TimeSpan.FromSeconds(seconds)));

    [Fact]
    public void One_that_is_tried_again_within_five_minutes_is_not_late()
    {
        Assert.Null(LetterWriter.Late(SomeAlert.Raised, SomeAlert.QueuedUtc.AddMinutes(5)));
        Assert.Equal(
            "This message is 5 min late: it is of 2026-03-02 07:14 (Europe/London, UTC+00:00), and things may have "
                + "changed since.",
            LetterWriter.Late(SomeAlert.Raised, SomeAlert.QueuedUtc.AddMinutes(5).AddSeconds(1)));
    }

    [Fact]
    public void Times_name_their_zone_in_summer_and_winter_and_where_it_is_not_known()
    {
        var summerUtc = new DateTimeOffset(2026, 7, 1, 23, 30, 0, TimeSpan.Zero);
        Assert.Equal("2026-07-02 00:30 (Europe/London, UTC+01:00)", AlertTime.Of(summerUtc, "Europe/London"));
        Assert.Equal("2026-07-01 19:30 (America/New_York, UTC-04:00)", AlertTime.Of(summerUtc, "America/New_York"));
        Assert.Equal("2026-07-01 23:30 (UTC+00:00)", AlertTime.Of(summerUtc, "Mars/Olympus"));
        Assert.Equal("2026-07-01 23:30 (UTC+00:00)", AlertTime.Of(summerUtc, "UTC"));
    }

    [Fact]
    public void The_subject_is_short_and_ends_at_a_word()
    {
        var long_ = SomeAlert.Raised with { Findings = [SomeAlert.Jump with { Message = string.Join(' ', Enumerable.Repeat("word", 500)) }] };
        var subject = SubjectLine.Of(long_);
        Assert.True(subject.Length <= 100, subject);
        Assert.EndsWith(" word...", subject);
        var clauses = SomeAlert.Raised with
        {
            Findings = [SomeAlert.Jump with { Message = "Z of G54 was not set: X and Y were set at 07:12 (print-out), and O2041 cuts in G54 and moves in Z." }],
        };
        Assert.EndsWith("X and Y were set at 07:12...", SubjectLine.Of(clauses));
        var unbroken = SomeAlert.Raised with { Findings = [SomeAlert.Jump with { Message = string.Concat(Enumerable.Repeat("\U0001F529", 500)) }] };
        Assert.DoesNotContain('\uFFFD', System.Text.Encoding.UTF8.GetString(System.Text.Encoding.UTF8.GetBytes(SubjectLine.Of(unbroken))));
    }

    [Fact]
    public void A_digest_of_what_cleared_says_so_and_asks_nobody_to_look()
    {
        var cleared = SomeAlert.Raised with
        {
            Kind = AlertKind.Digest,
            Setup = null,
            Severity = Severity.Stop,
            Findings = [SomeAlert.Jump with { Cleared = true }],
            Remainder = 39,
            RemainderCleared = 39,
        };
        Assert.StartsWith("mill-3: no longer so: X of G54 stands", LetterWriter.Of(cleared, SoonUtc).Subject, StringComparison.Ordinal);
        var text = Text(cleared, SoonUtc);
        Assert.Contains("mill-3: 40 findings that were sent before no longer hold by what the files show now.", text);
        Assert.DoesNotContain("Look before", text);
        Assert.DoesNotContain("Do not cut", text);

        var mixed = cleared with { Severity = Severity.High, RemainderCleared = 38 };
        Assert.Contains("mill-3: 1 finding, high; 39 findings that were sent before no longer hold. Look before", Text(mixed, SoonUtc));
    }

    [Fact]
    public void A_message_of_several_setups_says_of_each_finding_which_it_is_of()
    {
        var text = Text(SomeAlert.Raised with
        {
            Machine = "mill-3, mill-4",
            Setup = null,
            Findings =
            [
                SomeAlert.Jump with { Machine = "mill-3", Setup = "mill-3@20260302-071000" },
                SomeAlert.Jump with { Machine = "mill-4", Rule = "unreadable" },
            ],
            ReportLink = "http://127.0.0.1:8460/",
        }, SoonUtc);
        Assert.Contains("* high: implausible-jump, setup mill-3@20260302-071000, 2026-03-02 07:13", text);
        Assert.Contains("* high: unreadable, mill-4, 2026-03-02 07:13", text);
        Assert.Contains("All machines: http://127.0.0.1:8460/", text);
    }

    [Fact]
    public void A_share_that_fell_silent_is_named_with_its_machines()
    {
        var silent = SomeAlert.Raised with
        {
            Machine = "mill-3, mill-4",
            Setup = null,
            Share = "shares/hall-1",
            Severity = Severity.Low,
            Findings = [SomeAlert.Jump with { Severity = Severity.Low, Rule = "silent-source", Machine = "mill-4", Message = "It is silent." }],
        };
        Assert.StartsWith("mill-3, mill-4, share shares/hall-1, low: It is silent", LetterWriter.Of(silent, SoonUtc).Subject, StringComparison.Ordinal);
        Assert.Contains("mill-3, mill-4, share shares/hall-1: 1 finding, low. Worth a look", Text(silent, SoonUtc));
    }

    [Fact]
    public void Every_message_holds_the_caution()
    {
        foreach (var kind in Enum.GetValues<AlertKind>())
            Assert.Contains("replaces no dry run above the part, no first part in single block with reduced rapid",
                Text(SomeAlert.Raised with { Kind = kind }, SoonUtc));
    }

    [Fact]
    public void The_documentation_shows_the_message_and_names_every_field_of_its_JSON()
    {
        var page = File.ReadAllText(Repository.At("docs/alerts.md")).ReplaceLineEndings("\n");
        var shown = Text(SomeAlert.Raised, SoonUtc).Split("\nThis is worked out")[0];
        foreach (var line in shown.Split('\n').Where(line => line.Length > 0)) Assert.Contains($"\n    {line}\n", page);
        using var document = System.Text.Json.JsonDocument.Parse(AlertJson.Document(SomeAlert.Raised, SoonUtc));
        foreach (var name in Names(document.RootElement)) Assert.Contains($"\"{name}\": ", page);
    }

    private static IEnumerable<string> Names(System.Text.Json.JsonElement element) => element.ValueKind switch
    {
        System.Text.Json.JsonValueKind.Object =>
            element.EnumerateObject().SelectMany(member => Names(member.Value).Prepend(member.Name)),
        System.Text.Json.JsonValueKind.Array => element.EnumerateArray().SelectMany(Names),
        _ => [],
    };

    private static string Text(AlertMessage message, DateTimeOffset nowUtc)
    {
        var letter = LetterWriter.Of(message, nowUtc);
        return $"{letter.Subject}\n\n{PlainLetter.Of(letter)}";
    }
}
