using System.Text.Json;
using System.Text.RegularExpressions;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>Time stamps by an authority that openssl plays, through the built program.</summary>
public sealed partial class TimeStampTests
{
    [Fact]
    public async Task Once_has_the_record_stamped_verify_tells_it_and_openssl_agrees()
    {
        await using var authority = new HouseAuthority();
        using var shop = Shop(authority);
        Assert.Contains($"Checkpoints are time-stamped by {new Uri(authority.Url).GetLeftPart(UriPartial.Authority)}, at most every 24 h.",
            shop.Run("check").Exits(0).Output, StringComparison.Ordinal);
        shop.Once();
        shop.Once();
        Assert.Equal(1, authority.Calls);

        var answer = Assert.Single(Directory.GetFiles(shop["audit/stamps"], "*.tsr"));
        Assert.Contains("Verification: OK", authority.Verified(answer, Path.ChangeExtension(answer, ".txt")), StringComparison.Ordinal);
        var size = Path.GetFileNameWithoutExtension(answer);
        var good = shop.Run("verify").Exits(0).Output;
        Assert.Matches($@"(?m)^Time-stamped to {size} on \S+Z by CN=Harrow Lane time \(made up\), C=GB \(1 stamp in {Regex.Escape(shop["audit/stamps"])}\)\.$", good);
        Assert.Contains("off this computer).", good, StringComparison.Ordinal);
        var stamps = shop.Run("verify", "--json").Exits(0).Json.GetProperty("stamps");
        Assert.Equal([true, true], stamps.EnumerateArray().Select(stamp => stamp.GetProperty("isTrusted").GetBoolean()));

        var bytes = File.ReadAllBytes(answer);
        bytes[^9] ^= 1;
        File.WriteAllBytes(answer, bytes);
        Assert.Contains($"First wrong [stamp-fails]: the time stamp {answer} does not hold: the signature of the stamp does not hold.",
            shop.Run("verify").Exits(1).Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_authority_that_is_away_takes_nothing_from_the_record_and_is_said()
    {
        await using var authority = new HouseAuthority { Instead = _ => HouseAuthority.Http([], code: 503) };
        using var shop = Shop(authority);
        Assert.Contains("The record was not time-stamped, and will be when the authority answers: it answers with status 503.",
            shop.Run("once").Exits(0).Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("Time-stamped", shop.Run("verify").Exits(0).Output, StringComparison.Ordinal);
        File.Delete(authority.RootFile);
        Assert.Contains("Store.TimeStamps.CertificateFile: ", shop.Run("check").Exits(0).Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_service_has_it_stamped_beside_its_work_and_health_says_how_that_stands()
    {
        await using var authority = new HouseAuthority();
        using var shop = Shop(authority);
        using (var service = shop.Start("run"))
        {
            service.WaitFor("Listening on");
            service.WaitFor("Time-stamped ");
            var part = Part(service);
            Assert.Equal(("working", null), (part.Text("status"), part.Text("fault")));
            Assert.True(part.GetProperty("entries").GetInt64() > 0);
            service.Stop().Exits(0);
        }
        shop.Run("verify").Exits(0);

        Directory.Delete(shop["audit/stamps"], recursive: true);
        authority.Instead = _ => HouseAuthority.Http("<p>"u8.ToArray(), "text/html");
        using var again = shop.Start("run");
        again.WaitFor("Listening on");
        again.WaitFor("Checkpoints cannot be time-stamped by ");
        var fault = Part(again);
        Assert.Equal("degraded", fault.Text("status"));
        Assert.Equal("Checkpoints are not time-stamped: it answers text/html, not application/timestamp-reply.", fault.Text("fault"));
        again.Stop().Exits(0);
        shop.Run("verify").Exits(0);
    }

    // Silence for as long as the service runs: it takes in, answers and stops all the same.
    [Fact]
    public async Task An_authority_that_never_answers_holds_nothing_up()
    {
        await using var authority = new HouseAuthority { Instead = _ => null };
        using var shop = Shop(authority);
        using var service = shop.Start("run");
        service.WaitFor("Read 1 arrivals of mill-3");
        service.Stop().Exits(0);
        shop.Run("verify").Exits(0);
    }

    private static Workshop Shop(HouseAuthority authority)
    {
        var shop = Workshop.With(Workshop.OneMill.Replace("\"Store\": { \"Folder\": \"audit\" }",
            $"\"Store\": {{ \"Folder\": \"audit\", \"Checkpoints\": \"off-box\", {authority.Key()} }}, \"Web\": {{ \"Url\": \"http://127.0.0.1:0\" }}",
            StringComparison.Ordinal)).Write("shares/mill-3/offsets/0700.nc", "2026-03-02T07:00:00Z", "G10 L2 P1 X-310. Y-205. Z-300.\n");
        Directory.CreateDirectory(shop["off-box"]);
        return shop;
    }

    private static JsonElement Part(RunningProgram service)
    {
        using var client = new HttpClient();
        using var answer = client.Send(
            new HttpRequestMessage(HttpMethod.Get, Http.Match(service.Written()).Groups[1].Value + "/health"), TestContext.Current.CancellationToken);
        using var health = JsonDocument.Parse(answer.Content.ReadAsStream(TestContext.Current.CancellationToken));
        return Assert.Single(health.RootElement.GetProperty("parts").EnumerateArray(), part => part.Text("part") == "stamps").Clone();
    }

    [GeneratedRegex(@"Listening on [^\n]*?(http://127\.0\.0\.1:\d+)")]
    private static partial Regex Http { get; }
}
