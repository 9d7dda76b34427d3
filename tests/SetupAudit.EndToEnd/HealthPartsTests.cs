using System.Text.Json;
using System.Text.RegularExpressions;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>What /health says of the record and of alerts while the service runs.</summary>
public sealed partial class HealthPartsTests
{
    [Fact]
    public void Checkpoints_that_do_not_leave_the_computer_turn_the_service_degraded_and_say_why()
    {
        using var shop = Workshop.With(Workshop.OneMill
            .Replace("\"Folder\": \"audit\"", "\"Folder\": \"audit\", \"Checkpoints\": \"elsewhere\"", StringComparison.Ordinal)
            .Replace("\"PrintOuts\"", "\"Alerts\": { \"Files\": { \"Folder\": \"drop\" } },\n"
                + "  \"Web\": { \"Url\": \"http://127.0.0.1:0\" },\n  \"PrintOuts\"", StringComparison.Ordinal));
        Directory.CreateDirectory(shop["drop"]);
        using (var service = shop.Start("run"))
        {
            service.WaitFor("Watching");
            service.WaitFor("Listening on");
            using var health = Health(service);
            Assert.Equal("degraded", health.RootElement.Text("status"));
            var record = Part(health, "record");
            Assert.Equal("degraded", record.Text("status"));
            Assert.Equal("Checkpoints do not reach the folder off this computer: the folder is not there.", record.Text("fault"));
            Assert.True(record.GetProperty("entries").GetInt64() > 0);
            Assert.Equal(0, Part(health, "alerts").GetProperty("waiting").GetInt32());
            service.Stop().Exits(0);
        }

        Directory.CreateDirectory(shop["elsewhere"]);
        using var again = shop.Start("run");
        again.WaitFor("Watching");
        again.WaitFor("Listening on");
        using var mended = Health(again);
        Assert.Equal("working", Part(mended, "record").Text("status"));
        again.Stop().Exits(0);
    }

    private static JsonElement Part(JsonDocument health, string name) => Assert.Single(
        health.RootElement.GetProperty("parts").EnumerateArray(), part => part.Text("part") == name);

    private static JsonDocument Health(RunningProgram service)
    {
        using var client = new HttpClient();
        using var answer = client.Send(
            new HttpRequestMessage(HttpMethod.Get, Http.Match(service.Written()).Value + "/health"),
            TestContext.Current.CancellationToken);
        return JsonDocument.Parse(answer.Content.ReadAsStream(TestContext.Current.CancellationToken));
    }

    [GeneratedRegex(@"http://127\.0\.0\.1:\d+(?!\d)", RegexOptions.RightToLeft)]
    private static partial Regex Http { get; }
}
