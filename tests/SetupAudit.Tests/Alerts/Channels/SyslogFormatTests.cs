using System.Text;

namespace SetupAudit.Alerts.Channels;

/// <summary>
/// The examples of RFC 5424 section 6.5, from memory, as far as the form leaves them to us: its second has an offset
/// from UTC, and we write UTC.
/// </summary>
public sealed class SyslogFormatTests
{
    private const int Most = 2048;

    private static readonly SyslogEntry Plain = new()
    {
        Facility = 4,
        Severity = 2,
        AtUtc = new DateTimeOffset(2003, 10, 11, 22, 14, 15, 3, TimeSpan.Zero),
        Host = "mymachine.example.com",
        App = "su",
        Kind = "ID47",
        Text = "'su root' failed for lonvick on /dev/pts/8",
    };

    private static readonly SyslogElement First = new("exampleSDID@32473",
        [("iut", "3"), ("eventSource", "Application"), ("eventID", "1011")]);

    [Fact]
    public void Example_1_without_structured_data() => Assert.Equal(
        "<34>1 2003-10-11T22:14:15.003Z mymachine.example.com su - ID47 - \uFEFF'su root' failed for lonvick on /dev/pts/8",
        Text(Plain));

    [Fact]
    public void Example_3_with_structured_data() => Assert.Equal(
        "<165>1 2003-10-11T22:14:15.003Z mymachine.example.com evntslog - ID47 [exampleSDID@32473 iut=\"3\" "
            + "eventSource=\"Application\" eventID=\"1011\"] \uFEFFAn application event log entry...",
        Text(Plain with
        {
            Facility = 20,
            Severity = 5,
            App = "evntslog",
            Elements = [First],
            Text = "An application event log entry...",
        }));

    [Fact]
    public void Example_4_with_structured_data_only() => Assert.Equal(
        "<165>1 2003-10-11T22:14:15.003Z mymachine.example.com evntslog - ID47 [exampleSDID@32473 iut=\"3\" "
            + "eventSource=\"Application\" eventID=\"1011\"][examplePriority@32473 class=\"high\"]",
        Text(Plain with
        {
            Facility = 20,
            Severity = 5,
            App = "evntslog",
            Elements = [First, new("examplePriority@32473", [("class", "high")])],
            Text = null,
        }));

    // RFC 5424 6.3.3 and 6.4: three signs are escaped, and UTF-8 text begins with its mark.
    [Fact]
    public void Three_signs_are_escaped_and_no_other() => Assert.Equal(
        "<165>1 2026-09-18T07:30:00.123456Z host01 svc 4711 FILE_POISON [x@32473 path=\"C:\\\\dumps\\\\a\\]b.txt\" "
            + "note=\"say \\\"hi\\\"\"] \uFEFFtext",
        Text(new SyslogEntry
        {
            Facility = 20,
            Severity = 5,
            AtUtc = new DateTimeOffset(2026, 9, 18, 7, 30, 0, TimeSpan.Zero).AddMicroseconds(123456),
            Host = "host01",
            App = "svc",
            ProcessId = "4711",
            Kind = "FILE_POISON",
            Elements = [new("x@32473", [("path", "C:\\dumps\\a]b.txt"), ("note", "say \"hi\"")])],
            Text = "text",
        }));

    [Fact]
    public void Names_keep_to_the_lengths_and_signs_of_the_header()
    {
        var hostile = new string('ä', 300) + " ]\"=";
        var text = Text(Plain with
        {
            Host = hostile,
            App = hostile,
            ProcessId = hostile,
            Kind = hostile,
            Text = null,
            Elements = [new(hostile, [(hostile, "v")])],
        });
        Assert.Equal(
            $"<34>1 2003-10-11T22:14:15.003Z {new string('?', 255)} {new string('?', 48)} {new string('?', 128)} "
                + $"{new string('?', 32)} [{new string('?', 32)} {new string('?', 32)}=\"v\"]",
            text);
    }

    [Theory]
    [InlineData(12, "123456789012")]
    [InlineData(11, "12 ...(cut)")]
    [InlineData(10, "1 ...(cut)")]
    [InlineData(9, " ...(cut)")]
    public void A_text_beyond_the_octets_is_cut_and_says_so(int most, string cut) =>
        Assert.Equal(cut, Encoding.UTF8.GetString(SyslogFormat.Cut("123456789012", most)));

    [Fact]
    public void A_cut_never_halves_a_character()
    {
        for (var most = 9; most < 60; most++)
        {
            var bytes = SyslogFormat.Cut(string.Concat(Enumerable.Repeat("€😀ä", 20)), most);
            Assert.InRange(bytes.Length, 9, most);
            Assert.DoesNotContain('\uFFFD', Encoding.UTF8.GetString(bytes));
        }
    }

    private static string Text(SyslogEntry entry) => Encoding.UTF8.GetString(SyslogFormat.Of(entry, Most));
}
