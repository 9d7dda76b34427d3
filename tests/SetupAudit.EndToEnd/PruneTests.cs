using System.Globalization;
using SetupAudit.Demo;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>The evidence of the made-up shop's first days is dropped, by the command that people type.</summary>
public sealed class PruneTests
{
    private const string Day = "2026-03-06";
    private const string Early = "mill-3@20260303";

    private static readonly string[] Kinds = ["setups", "changes", "findings", "measurements", "cycles", "programs", "arrivals"];

    private static readonly IReadOnlyList<DemoFile> Files = DemoShop.Files();

    [Fact]
    public void What_was_said_stands_and_is_proved_and_what_comes_is_derived_as_in_a_twin()
    {
        using var shop = WithFirstDays();
        using var twin = WithFirstDays();
        shop.Run("export", Early, "--out", shop["older.zip"]).Exits(0);
        var before = Rows(shop);
        var kept = Directory.GetFiles(shop["audit/evidence"]).Sum(path => new FileInfo(path).Length);

        Assert.Contains("would go", shop.Run("prune", "--before", Day, "--dry-run").Exits(0).Output, StringComparison.Ordinal);
        Assert.Equal(before, Rows(shop));
        var ran = Prune(shop).Exits(0);

        Assert.Matches(@"\n\d+ files of evidence with \d+ bytes went; \d+ stored bytes among them stay and are moved\.", ran.Output);
        Assert.Equal(before, Rows(shop));
        Assert.True(Directory.GetFiles(shop["audit/evidence"]).Sum(path => new FileInfo(path).Length) != kept);
        var verified = shop.Run("verify").Exits(0);
        Assert.Matches(@"\n\d+ files of evidence were dropped on \d{4}-\d\d-\d\d, from before 2026-03-06, by Ann Reed and Omar Diaz \(policy 7\), ", verified.Output);
        Assert.Contains("and stand as they were recorded", shop.Run("rebuild").Exits(0).Output, StringComparison.Ordinal);
        var trail = shop.List("trail").Single(row => row.Text("what")?.Contains("evidence were dropped", StringComparison.Ordinal) == true);
        Assert.Equal(("Ann Reed and Omar Diaz", true), (trail.Text("by"), trail.GetProperty("signed").GetBoolean()));
        Assert.EndsWith("dropped, from before 2026-03-06T00:00:00Z: policy 7", trail.Text("what"), StringComparison.Ordinal);

        Tells(shop);
        GoesOnAs(twin, shop);
    }

    [Fact]
    public void It_is_refused_without_the_names_and_passwords_of_those_who_may_and_while_a_service_runs()
    {
        using var shop = WithFirstDays();
        string[] prune = ["prune", "--before", Day, "--reason", "policy 7"];
        Refused(2, "Say who decides it", prune);
        Refused(2, "--password-file is needed", [.. prune, "--by", "Ann Reed"]);
        Refused(1, "Nothing was signed or done", [.. prune, "--by", "Ann Reed", "--password-file", shop["omar.txt"]]);
        Refused(2, "Omar Diaz is no administrator", [.. prune, "--by", "Omar Diaz", "--password-file", shop["omar.txt"]]);
        Refused(2, "--second is needed: two decide", [.. prune, "--by", "Ann Reed", "--password-file", shop["ann.txt"]]);
        Refused(2, "a second person is needed", [.. prune, "--by", "Ann Reed", "--password-file", shop["ann.txt"],
            "--second", "Ann Reed", "--second-password-file", shop["ann.txt"]]);
        Refused(2, "neither an administrator nor of quality", [.. prune, "--by", "Ann Reed", "--password-file", shop["ann.txt"],
            "--second", "Jo Moss", "--second-password-file", shop["jo.txt"]]);
        Refused(2, "has not come yet", ["prune", "--before", "2199-01-01", "--dry-run"]);
        using (var service = shop.Start("run"))
        {
            service.WaitFor("Watching");
            Refused(2, "Another setupaudit writes the store", [.. prune, "--by", "Ann Reed", "--password-file", shop["ann.txt"],
                "--second", "Omar Diaz", "--second-password-file", shop["omar.txt"]]);
            service.Kill();
        }
        Assert.DoesNotContain(shop.List("trail"), row => row.Text("kind") == "keeping");

        void Refused(int status, string says, IReadOnlyList<string> arguments) =>
            Assert.Contains(says, shop.Run(arguments).Exits(status).Errors, StringComparison.Ordinal);
    }

    // Where what was dropped would be needed, it is said that it was dropped; what is recorded is shown as ever.
    private static void Tells(Workshop shop)
    {
        var trace = shop.Run("trace", "--machine", "mill-3", "--at", "2026-03-03T12:00", "--error", "X=0.25").Exits(2);
        Assert.Contains("The evidence of mill-3 before 2026-03-05 ", trace.Errors, StringComparison.Ordinal);
        shop.Run("trace", "--machine", "mill-3", "--at", "2026-03-09T12:00", "--error", "X=0.25").Exits(0);
        var state = shop.Run("state", "--machine", "mill-3", "--at", "2026-03-03T12:00").Exits(0);
        Assert.Contains("this rests on what was recorded", state.Errors, StringComparison.Ordinal);
        Assert.Contains("-402.131", state.Output, StringComparison.Ordinal);
        var arrivals = shop.List("arrivals", "--machine", "mill-3").ToLookup(row => row.Text("dropped") is not null);
        Assert.NotEmpty(arrivals[true]);
        Assert.NotEmpty(arrivals[false]);
        Assert.All(arrivals[true], row => Assert.True(string.CompareOrdinal(row.Text("moment"), "2026-03-05") < 0, row.Text("moment")));
        var listed = shop.Run("list", "arrivals", "--machine", "mill-3").Exits(0).Output;
        Assert.Matches("^moment .* dropped *\n", listed);
        var review = shop.Run("review", Early, "--by", "Ann Reed", "--verdict", "accepted", "--reason", "late").Exits(1);
        Assert.Contains("was dropped, so it stands as it was", review.Errors, StringComparison.Ordinal);

        shop.Run("report", Early, "--out", shop["early.html"]).Exits(0);
        Assert.Contains("by Ann Reed and Omar Diaz (policy 7)", File.ReadAllText(shop["early.html"]), StringComparison.Ordinal);
        shop.Run("export", Early, "--out", shop["newer.zip"]).Exits(0);
        Assert.Contains("dropped before it was made, on ", Verify(shop["newer.zip"]), StringComparison.Ordinal);
        Assert.DoesNotContain("dropped", Verify(shop["older.zip"]), StringComparison.Ordinal);
        shop.Run("backup", "--out", shop["copy"]).Exits(0);

        string Verify(string path) => BuiltProgram.Run(shop.Folder, "verify", path).Exits(0).Output;
    }

    private static void GoesOnAs(Workshop twin, Workshop shop)
    {
        foreach (var one in new[] { twin, shop })
        {
            Put(one, Files);
            one.Run("once");
            one.Configure(Config.Replace("\"Sheets\":", "\"Rules\": { \"drift\": \"off\", \"outside-sheet\": \"low\" }, \"Sheets\":", StringComparison.Ordinal));
            one.Run("once");
        }
        var old = Rows(shop, "--until", "2026-03-04");
        Assert.NotEmpty(old);
        foreach (var kind in Kinds)
            Assert.Equal(Texts(twin, kind, "--since", Day), Texts(shop, kind, "--since", Day));
        shop.Run("rebuild").Exits(0);
        shop.Run("verify").Exits(0);
    }

    private static string Config => Files.Single(file => file.Name == DemoShop.ConfigurationFile).Text
        .Replace("\"Folder\": \"audit\"", "\"Folder\": \"audit\", \"Checkpoints\": \"elsewhere\"", StringComparison.Ordinal)
        .Replace("\"Sheets\":", "\"Web\": { \"Url\": \"http://127.0.0.1:0\" }, \"Sheets\":", StringComparison.Ordinal);

    private static Workshop WithFirstDays()
    {
        var shop = Workshop.With(Config);
        Directory.CreateDirectory(shop["elsewhere"]);
        Put(shop, Files.Where(file => file.ModifiedUtc < new DateTimeOffset(2026, 3, 10, 0, 0, 0, TimeSpan.Zero)));
        shop.Run("once");
        foreach (var (name, role) in new[] { ("Ann Reed", "administrator"), ("Omar Diaz", "quality"), ("Jo Moss", "setter") })
        {
            var file = $"{name.Split(' ')[0].ToLowerInvariant()}.txt";
            shop.Write(file, "2026-03-01T00:00:00Z", $"four plain words of {name.Split(' ')[0]}\n");
            shop.Run("people", "add", name, "--role", role, "--password-file", shop[file]).Exits(0);
        }
        return shop;
    }

    internal static Ran Prune(Workshop shop) => shop.Run("prune", "--before", Day, "--by", "Ann Reed", "--reason", "policy 7",
        "--password-file", shop["ann.txt"], "--second", "Omar Diaz", "--second-password-file", shop["omar.txt"]);

    private static void Put(Workshop shop, IEnumerable<DemoFile> files)
    {
        foreach (var file in files.Where(file => file.Name != DemoShop.ConfigurationFile))
            shop.Write(file.Name, file.ModifiedUtc.ToString("O", CultureInfo.InvariantCulture), file.Text);
    }

    private static List<string> Rows(Workshop shop, params IReadOnlyList<string> options) =>
        [.. Kinds.SelectMany(kind => Texts(shop, kind, options))];

    private static IEnumerable<string> Texts(Workshop shop, string kind, params IReadOnlyList<string> options) =>
        shop.List(kind, options).Select(row => Received(row.GetRawText()));

    // When a file was taken in, and when its bytes were dropped, is not derived, and is another moment in each store.
    private static string Received(string row) => System.Text.RegularExpressions.Regex.Replace(
        row, "\"received\":\\s*\"[^\"]*\"|,\"dropped\":(null|\"[^\"]*\")", "");
}
