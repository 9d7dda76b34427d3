using System.Globalization;
using System.Text;
using System.Text.Json;
using SetupAudit.Alerts.Support;
using SetupAudit.Support;

namespace SetupAudit.Alerts;

/// <summary>
/// A made-up shop in which a thousand findings come to light at once, by the built program, to a mail server and an
/// address of their own: few messages, and every finding is in one or is counted by one and named by the list.
/// </summary>
public sealed class ThousandFindingsTests
{
    private const int Machines = 5;
    private const int Dumps = 10;
    private const int Registers = 20;
    private const int Findings = Machines * Dumps * Registers;
    private const int Most = 10;

    private static readonly DateTimeOffset Start = DateTimeOffset.UtcNow.AddHours(-100);

    [Fact]
    public async Task A_thousand_at_once_end_in_few_messages_and_none_is_lost()
    {
        await using var mail = new MailReceiver();
        await using var hook = new WebhookReceiver();
        using var shop = Workshop.With(Configuration(mail, hook));
        for (var machine = 1; machine <= Machines; machine++) Dump(shop, machine, 0);
        shop.Once();
        Assert.Empty(hook.Calls);
        for (var machine = 1; machine <= Machines; machine++)
            for (var dump = 1; dump <= Dumps; dump++) Dump(shop, machine, dump);
        shop.Once();

        var events = hook.Calls.Select(call => JsonElement.Parse(Encoding.UTF8.GetString(call.Body)).GetProperty("data")).ToList();
        Assert.Equal(Most + 1, events.Count);
        Assert.Equal(2 * (Most + 1), mail.Mails.Count);
        Assert.All(mail.Receivers.GroupBy(to => to), to => Assert.Equal(Most + 1, to.Count()));
        Assert.Equal(Most + 1, mail.Mails.Select(one => one.MessageId).Distinct().Count());

        var named = events.ToDictionary(one => one.Text("alert") ?? "", one => one.GetProperty("findings").EnumerateArray()
            .Select(finding => finding.Text("finding") ?? "").ToHashSet());
        var remainder = events.ToDictionary(one => one.Text("alert") ?? "", one => one.GetProperty("remainder").GetInt32());
        var rows = shop.List("alerts");
        Assert.Equal(Findings, rows.Count);
        Assert.Equal(Findings, rows.Select(row => row.Text("finding")).Distinct().Count());
        var counted = new List<string>();
        foreach (var row in rows)
        {
            Assert.Equal("sent", row.Text("status"));
            var message = Assert.Single(row.GetProperty("messages").EnumerateArray().Select(one => one.Text("message") ?? "").Distinct());
            Assert.Equal(3, row.GetProperty("messages").GetArrayLength());
            if (named[message].Contains(row.Text("finding") ?? "")) continue;
            Assert.Equal("the message counts it and does not name it", row.Text("why"));
            counted.Add(message);
        }
        Assert.Equal(remainder.Where(one => one.Value > 0).ToDictionary(), counted.CountBy(message => message).ToDictionary());
        Assert.Equal(Findings, named.Values.Sum(findings => findings.Count) + remainder.Values.Sum());

        shop.Once();
        Assert.Equal(Most + 1, hook.Calls.Count);
        shop.Run("verify").Exits(0);
    }

    // Each dump is a setup of its own, and moves Z of every register beyond the limit.
    private static void Dump(Workshop shop, int machine, int dump)
    {
        var text = new StringBuilder("%\n");
        for (var register = 1; register <= Registers; register++)
            text.Append(CultureInfo.InvariantCulture,
                $"G10 L20 P{register} X-{register}.000 Y-{register}.500 Z{(dump % 2 == 0 ? -300 : -305) - register}.000\n");
        shop.Write(FormattableString.Invariant($"shares/mill-{machine}/{dump:00}.nc"),
            Start.AddHours(2 * dump).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture), text.Append("%\n").ToString());
    }

    private static string Configuration(MailReceiver mail, WebhookReceiver hook)
    {
        var machines = Enumerable.Range(1, Machines).Select(machine => $$"""
                "mill-{{machine}}": { "Kind": "mill", "Units": "mm",
                  "Watch": [ { "Folder": "shares/mill-{{machine}}", "Files": "*.nc", "Read": "data-setting" } ] }
            """);
        return $$"""
            {
              "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Europe/London" },
              "Store": { "Folder": "audit" },
              "Machines": {
            {{string.Join(",\n", machines)}}
              },
              "Rules": { "axis-not-set": "off", "implausible-jump": "off", "values-restored": "off", "lift": "off" },
              "Limits": [ { "Register": "G54.1 P*", "Axis": "Z", "Change": 1 } ],
              "Alerts": {
                "Mail": { "Host": "localhost", "Port": {{mail.Port}}, "Security": "none", "From": "audit@example.com",
                  "To": [ "setters@example.com", "quality@example.com" ] },
                "Webhook": { "Url": {{JsonSerializer.Serialize(hook.Url)}} }
              }
            }
            """;
    }
}
