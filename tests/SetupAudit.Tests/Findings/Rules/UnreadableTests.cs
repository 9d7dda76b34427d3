using SetupAudit.Evidence;
using SetupAudit.Findings.Support;
using SetupAudit.Readings;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class UnreadableTests
{
    private const string File = "shares/mill-3/offsets/g54.nc";
    private static readonly ShopConfig Shop = new CaseBuilder().Build().Shop;

    private static Finding? Judge(ArrivalStatus status, params Fault[] faults) =>
        RuleBook.JudgeArrival(Shop, "mill-3", File, "0123456789abcdef", When.At("07:10"), status, faults);

    [Fact]
    public void An_arrival_that_could_not_be_read_is_found_with_line_column_and_reason()
    {
        var finding = Judge(ArrivalStatus.Unreadable, new Fault(3, 14, "X--5 is no number"));
        Assert.NotNull(finding);
        Assert.Equal("mill-3@20260302-071000/unreadable/shares/mill-3/offsets/g54.nc#01234567", finding.Id);
        Assert.Equal((Severity.High, null, When.At("07:10")), (finding.Severity, finding.Setup, finding.AtUtc));
        Assert.Equal("shares/mill-3/offsets/g54.nc could not be read: line 3, column 14: X--5 is no number.", finding.Message);
        Assert.Equal(new SourceLine(File, "0123456789abcdef", 3), Assert.Single(finding.Evidence));
    }

    [Fact]
    public void One_read_in_part_says_that_what_came_before_counts() =>
        Assert.Equal(
            "shares/mill-3/offsets/g54.nc could only be read in part; what came before the fault counts: line 3: cut off (1 more "
            + "fault follows).",
            Judge(ArrivalStatus.Partial, new Fault(3, 0, "cut off."), new Fault(9, 0, "nothing"))?.Message);

    [Fact]
    public void A_fault_of_the_file_as_a_whole_names_no_line() =>
        Assert.Equal("shares/mill-3/offsets/g54.nc could not be read: no permission.",
            Judge(ArrivalStatus.Unreadable, new Fault(0, 0, "no permission"))?.Message);

    [Fact]
    public void An_arrival_that_was_read_is_not_found() => Assert.Null(Judge(ArrivalStatus.Read));

    [Fact]
    public void The_configuration_sets_its_severity_or_turns_it_off()
    {
        Finding? With(Severity? severity) => RuleBook.JudgeArrival(
            new CaseBuilder().Rule("unreadable", severity).Build().Shop, "mill-3", File, "01", When.At("07:10"),
            ArrivalStatus.Unreadable, [new Fault(1, 1, "empty")]);
        Assert.Equal(Severity.Stop, With(Severity.Stop)?.Severity);
        Assert.Null(With(null));
    }

    [Fact]
    public void A_sighting_with_faults_is_an_arrival_read_in_part_or_not_at_all()
    {
        Sighting Seen(params OffsetReading[] offsets) => new()
        {
            AtUtc = When.At("07:10"),
            EarliestUtc = When.At("07:10"),
            Source = 0,
            File = File,
            Sha256 = "01",
            Line = 0,
            Arrival = "a",
            Offsets = offsets,
            Faults = [new Fault(2, 1, "cut off")],
        };
        Assert.Contains("could not be read", RuleBook.JudgeArrival(Shop, "mill-3", Seen())?.Message, StringComparison.Ordinal);
        Assert.Contains("in part", RuleBook.JudgeArrival(
            Shop, "mill-3", Seen(new OffsetReading(1, 1, CaseBuilder.Key("G54.X"), 1m, ReadingHow.Stands)))?.Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_sheet_belongs_to_no_machine() =>
        Assert.StartsWith("sheets@20260302-071000/unreadable/", RuleBook.JudgeArrival(
            Shop, "", "sheets/O2041.json", "01", When.At("07:10"), ArrivalStatus.Unreadable, [new Fault(1, 1, "cut off")])?.Id,
            StringComparison.Ordinal);

    [Fact]
    public void A_setup_has_none_of_its_own() => Assert.Empty(new CaseBuilder().Held("G54", -1, -2, -3).Found("unreadable"));
}
