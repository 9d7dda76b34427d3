using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using SetupAudit.Alerts.Support;
using SetupAudit.Support;

namespace SetupAudit.Alerts;

/// <summary>
/// What a share says, from the file to the message: names of files, features, alarms and comments that try to be a
/// header, a receiver, an element, a line or a value reach every receiver as words and nothing else.
/// </summary>
public sealed class HostileShareTests
{
    private const string Mark = "hostile";

    // As the features that a print-out names: short enough to be shown whole.
    private static readonly string[] Texts =
    [
        "hostile</p><script>alert(1)</script>",
        "\"><a href=\"javascript:x\">hostile</a>",
        "hostile] x=\"1\"][y@1 z=\"2\"] \\\\ \\\"",
        "=?utf-8?Q?hostile=0D=0ABcc:_all=40example.com?=",
        "hostile\u2028Bcc: all@example.com\u0085\u202Eevil",
        "hostile\rBcc: all@example.com",
        "hostile<0>1 - - - - - - forged",
        "hostile\x1b[31m\x07\b\x7f &lt;b&gt; &#0; ]]>",
        "../../hostile",
    ];

    private static readonly Regex Entry = new(
        "^<[0-9]{1,3}>1 [-0-9:.TZ]+ [!-~]+ setupaudit [0-9]+ [A-Z]+ "
        + "\\[alert@32473(?: [a-z]+=\"(?:[^\"\\\\\\]]|\\\\[\"\\\\\\]])*\")*\\] \uFEFF[^\\p{Cc}\\p{Cf}\u2028\u2029]*$",
        RegexOptions.NonBacktracking);

    private static readonly Regex FileName = new("^[0-9]{8}T[0-9]{6}Z-[a-z]+-[0-9a-f]{32}\\.json$", RegexOptions.NonBacktracking);

    private static readonly string[] Fields = "Auto-Submitted,Content-Type,Date,From,Importance,In-Reply-To,MIME-Version,Message-Id,References,SetupAudit-Alert,Subject,To".Split(',');

    [Fact]
    public async Task What_files_say_reaches_every_receiver_as_words_only()
    {
        await using var mail = new MailReceiver();
        await using var hook = new WebhookReceiver();
        using var log = SyslogReceiver.Tcp();
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        var entries = CollectAsync(log, stop.Token);
        using var shop = Workshop.With(Configuration(mail, hook, log));
        Directory.CreateDirectory(shop["drop"]);
        shop.Write("shares/mill-3/offsets/1.nc", At(0), "%\nG10 L2 P1 X-400. Y-200. Z-310.\n%\n");
        shop.Once();
        Write(shop);
        shop.Run("once");
        await stop.CancelAsync();

        var rules = shop.List("alerts").Where(row => row.Text("status") == "sent").Select(row => row.Text("rule")).ToHashSet();
        Assert.Superset(new HashSet<string?> { "size-off", "unreadable", "surface-not-found" }, rules);
        Assert.NotEmpty(mail.Raw);
        foreach (var raw in mail.Raw) IsOneMail(raw);
        Assert.Equal(["setters@example.com"], mail.Receivers.Distinct());
        Assert.Contains(mail.Mails, one => (one.HtmlBody ?? "").Contains(Mark, StringComparison.Ordinal));
        foreach (var one in mail.Mails) HasOurElementsOnly(one.HtmlBody ?? "");
        foreach (var call in hook.Calls) IsOneEvent(call);
        var logged = await entries;
        Assert.Contains(logged, one => one.Contains(Mark, StringComparison.Ordinal));
        Assert.All(logged, one => Assert.Matches(Entry, one));
        var files = Directory.GetFileSystemEntries(shop["drop"]).Select(path => Path.GetFileName(path)).ToList();
        Assert.Equal(hook.Calls.Count, files.Count);
        Assert.All(files, name => Assert.Matches(FileName, name));
        Assert.Equal(hook.Calls.Count, logged.Count);
        Assert.DoesNotContain(Directory.GetFiles(shop.Folder), path => path.Contains(Mark, StringComparison.Ordinal));
        shop.Run("verify").Exits(0);
    }

    private static void Write(Workshop shop)
    {
        shop.Write("shares/mill-3/programs/O2041.nc", At(1),
            "%\nO2041 (hostile</p><script>alert(1)</script>\u202E)\n(=?utf-8?Q?hostile?= Bcc: all@example.com)\nG54 G0 X0 Y0\nG1 Z-1. F100\nM30\n%\n")
            .Write("shares/mill-3/offsets/2.nc", At(60), "%\n(hostile] x=\"1\")\nG10 L2 P1 X-397. Y-203. Z-305. (\"><b>hostile)\n%\n")
            .Write("shares/mill-3/offsets/3\r\nBcc: all@example.com\r\n <b>hostile.nc", At(61), "hostile </p><script>\r\nBcc: all@example.com \u0001");
        var lines = new StringBuilder();
        for (var text = 0; text < Texts.Length; text++)
            lines.Append(CultureInfo.InvariantCulture, $"{Clock(62 + text)} SIZE 'bore {Texts[text]}' G54 25.400 25.000 24.980 25.020\n")
                .Append(CultureInfo.InvariantCulture, $"{Clock(62 + text)} ALARM 10{text} {Texts[text]}\n");
        shop.Write("shares/mill-3/prints/day.log", At(62 + Texts.Length), lines.ToString());
    }

    private static void IsOneMail(string raw)
    {
        var head = raw[..raw.IndexOf("\r\n\r\n", StringComparison.Ordinal)].Split("\r\n");
        var fields = head.Where(line => line[0] is not ' ' and not '\t').Select(line => line.Split(':')[0]).Order(StringComparer.Ordinal).ToList();
        Assert.Equal(fields, fields.Distinct());
        Assert.Empty(fields.Except(Fields));
        Assert.DoesNotContain('\0', raw);
        Assert.All(raw.Replace("\r\n", "", StringComparison.Ordinal), letter => Assert.True(letter is not '\r' and not '\n'));
    }

    private static void HasOurElementsOnly(string html)
    {
        var document = XDocument.Parse(html[html.IndexOf("<html", StringComparison.Ordinal)..]);
        Assert.Empty(document.Descendants().Select(element => element.Name.LocalName).Except(["html", "head", "meta", "title", "body", "p", "a"]));
        Assert.Empty(document.Descendants().Attributes().Select(attribute => attribute.Name.LocalName).Except(["lang", "charset", "style", "href"]));
        Assert.All(document.Descendants("a"), link => Assert.StartsWith("http://127.0.0.1:8460/", link.Attribute("href")?.Value, StringComparison.Ordinal));
        HostileText.Shows(string.Concat(document.Descendants("p").Select(paragraph => paragraph.Value)));
    }

    private static void IsOneEvent(WebhookCall call)
    {
        Assert.Equal("POST /hook?key=in-the-path HTTP/1.1", call.Request);
        Assert.Equal(["Connection", "Content-Length", "Content-Type", "Host", "User-Agent", "webhook-id", "webhook-timestamp"],
            call.Headers.Keys.Order(StringComparer.OrdinalIgnoreCase));
        Assert.Matches("^alert_[0-9a-f]{32}$", call.Headers["webhook-id"]);
        Assert.All(call.Body, letter => Assert.InRange(letter, (byte)' ', (byte)'~'));
        var data = JsonElement.Parse(Encoding.UTF8.GetString(call.Body)).GetProperty("data");
        HostileText.Shows(data.Text("subject") ?? "");
        HostileText.Shows((data.Text("text") ?? "").Replace("\n", "", StringComparison.Ordinal));
    }

    private static async Task<List<string>> CollectAsync(SyslogReceiver log, CancellationToken token)
    {
        var all = new List<string>();
        try
        {
            while (true)
                all.AddRange((await log.NextAsync(token)).Select(one => new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(one)));
        }
        catch (OperationCanceledException)
        {
            return all;
        }
    }

    private static string At(int minutes) => Moment(minutes).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    // The print-out's clock is London's, which in March is UTC.
    private static string Clock(int minutes) => Moment(minutes).ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture);

    private static DateTimeOffset Moment(int minutes) => new DateTimeOffset(2026, 3, 2, 7, 0, 0, TimeSpan.Zero).AddMinutes(minutes);

    private static string Configuration(MailReceiver mail, WebhookReceiver hook, SyslogReceiver log) => $$"""
        {
          "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Europe/London" },
          "Store": { "Folder": "audit" },
          "Machines": { "mill-3": { "Kind": "mill", "Units": "mm", "StylusDiameter": 6.0,
            "Watch": [
              { "Folder": "shares/mill-3/offsets", "Files": "*.nc", "Read": "data-setting" },
              { "Folder": "shares/mill-3/prints", "Files": "*.log", "Read": "print-out", "Lines": "shop-prints" },
              { "Folder": "shares/mill-3/programs", "Files": "*.nc", "Read": "program" } ] } },
          "PrintOuts": { "shop-prints": { "Time": "yyyy-MM-dd HH:mm:ss", "Lines": [
            { "Match": "^(?<time>[-0-9]+ [:0-9]+) SIZE '(?<feature>.*)' (?<register>G5\\d) (?<size>\\S+) (?<nominal>\\S+) (?<low>\\S+) (?<high>\\S+)$", "Means": "measured" },
            { "Match": "^(?<time>[-0-9]+ [:0-9]+) ALARM (?<code>\\d+) (?<text>.*)", "Means": "alarm", "Kind": "surface-not-found" } ] } },
          "Alerts": {
            "Severity": "note", "Most": 10000,
            "Mail": { "Host": "localhost", "Port": {{mail.Port}}, "Security": "none", "From": "audit@example.com", "To": [ "setters@example.com" ] },
            "Webhook": { "Url": {{JsonSerializer.Serialize(hook.Url)}} },
            "Syslog": { "Host": "127.0.0.1", "Port": {{log.Port}}, "Protocol": "tcp" },
            "Files": { "Folder": "drop" }
          }
        }
        """;
}
