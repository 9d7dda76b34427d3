using SetupAudit.Support;

namespace SetupAudit;

/// <summary>Reviews and people through the built program, with and without a service that holds the store.</summary>
public sealed class ReviewTests : IDisposable
{
    private const string Setup = "mill-3@20260302-071000";

    private readonly Workshop _shop = Workshop.With(Workshop.OneMill.Replace("\"Store\": { \"Folder\": \"audit\" },",
            "\"Store\": { \"Folder\": \"audit\" }, \"Web\": { \"Url\": \"http://127.0.0.1:0\" },", StringComparison.Ordinal))
        .Write("shares/mill-3/programs/O2041.nc", "2026-03-01T05:00:00Z",
            "%\nO2041 (PUMP COVER)\nG21\nT3 M6\nG54 G0 X0 Y0\nG43 H3 Z5.\nG1 Z-2. F100\nX50. Y20.\nM30\n%\n")
        .Write("shares/mill-3/offsets/a.nc", "2026-03-02T06:00:00Z", "%\nG10 L2 P1 X-400. Y-200. Z-300.\n%\n")
        .Write("shares/mill-3/offsets/b.nc", "2026-03-02T07:10:00Z", "%\nG10 L2 P1 X-410. Y-210. Z-300.\n%\n")
        .Write("shares/mill-3/prints/1.log", "2026-03-02T08:30:00Z",
            "2026-03-02 08:00:00 CYCLE START O2041\n2026-03-02 08:30:00 CYCLE END O2041\n");

    public ReviewTests()
    {
        _shop.Write("ann.txt", "2026-03-01T00:00:00Z", "four plain words do\n");
        _shop.Write("wrong.txt", "2026-03-01T00:00:00Z", "four other words do\n");
        _shop.Write("new.txt", "2026-03-01T00:00:00Z", "quite another sentence");
    }

    [Fact]
    public void A_signed_review_shows_in_list_report_and_trail_and_the_record_verifies()
    {
        _shop.Once();
        Assert.Equal("queried", Status());
        Add();
        var ran = Review("--password-file", _shop["ann.txt"], "--cause", "riser-height").Exits(0);

        Assert.Equal($"{Setup}: Reviewed and accepted by Ann Reed (quality), who signed with name and password. "
            + "The verdict concerns the setup, not the parts cut in it.", ran.Output.Trim());
        Assert.Equal("accepted", Status());
        var review = _shop.List("setups")[0].GetProperty("review");
        Assert.Equal(("Ann Reed", "accepted", "measured by hand", "riser-height"),
            (review.Text("by"), review.Text("verdict"), review.Text("reason"), review.Text("cause")));
        Assert.True(review.GetProperty("signed").GetBoolean());
        Assert.Equal(Setup, Assert.Single(_shop.List("reviews")).Text("shownOn"));
        Assert.Equal(["person", "review", "sign-in"], _shop.List("trail").Select(row => row.Text("kind"))
            .Where(kind => kind is "person" or "review" or "sign-in").Order(StringComparer.Ordinal));
        foreach (var ending in new[] { "html", "csv", "json" })
        {
            _shop.Run("report", Setup, "--out", _shop[$"r.{ending}"]).Exits(0);
            var text = File.ReadAllText(_shop[$"r.{ending}"]);
            Assert.Contains("Ann Reed", text, StringComparison.Ordinal);
            Assert.Contains("who signed with name and password", text, StringComparison.Ordinal);
            Assert.Contains("measured by hand", text, StringComparison.Ordinal);
        }
        _shop.Run("verify").Exits(0);
        _shop.Run("rebuild").Exits(0);
    }

    [Fact]
    public void A_name_without_a_password_is_recorded_and_said_to_be_unproved_and_a_later_review_supersedes()
    {
        _shop.Once();
        Review().Exits(0);
        _shop.Run("review", Setup[..20], "--by", "Bob", "--verdict", "rejected", "--reason", "Z is wrong").Exits(0);

        Assert.Equal("rejected", Status());
        var review = _shop.List("setups")[0].GetProperty("review");
        Assert.False(review.GetProperty("signed").GetBoolean());
        Assert.Equal("Recorded as rejected under the name Bob; nobody proved that name. "
            + "The verdict concerns the setup, not the parts cut in it.", review.Text("words"));
        Assert.Equal(["Ann Reed", "Bob"], _shop.List("reviews").Select(row => row.Text("by")));
        Assert.Equal([true, false], _shop.List("reviews").Select(row => row.GetProperty("superseded").GetBoolean()));
        Assert.Contains("axis-not-set", _shop.Rules());
    }

    [Fact]
    public void A_name_without_a_password_does_not_take_the_place_of_a_signed_review()
    {
        _shop.Once();
        Review().Exits(0);
        Add();
        Review("--password-file", _shop["ann.txt"]).Exits(0);
        var ran = _shop.Run("review", Setup, "--by", "Bob", "--verdict", "rejected", "--reason", "Z is wrong").Exits(1);

        Assert.Equal($"Ann Reed signed a review of {Setup}, and only a signed review takes the place of a signed one. "
            + "Sign it: give --password-file, or type the password.", ran.Errors.Trim());
        Assert.Equal("accepted", Status());
        Assert.Equal(2, _shop.List("reviews").Count);
    }

    [Fact]
    public void A_wrong_password_signs_nothing_and_is_kept_in_the_trail()
    {
        _shop.Once();
        Add();
        var ran = Review("--password-file", _shop["wrong.txt"]).Exits(1);

        Assert.Contains("The name or the password is not right. Nothing was signed or done.", ran.Errors, StringComparison.Ordinal);
        Assert.Empty(_shop.List("reviews"));
        Assert.Contains(_shop.List("trail"), row => row.Text("what") == "Ann Reed's name and password for review: wrong");
        // A password typed in the place of the name is nobody's name, and is not kept.
        _shop.Run("review", Setup, "--by", "correct horse battery", "--verdict", "accepted", "--reason", "x", "--password-file", _shop["wrong.txt"]).Exits(1);
        var trail = _shop.List("trail");
        Assert.Contains(trail, row => row.Text("what") == "a name that nobody has, and a password, for review");
        Assert.DoesNotContain(trail, row => row.GetRawText().Contains("correct horse", StringComparison.Ordinal));
        for (var tries = 2; tries <= 5; tries++) Review("--password-file", _shop["wrong.txt"]).Exits(1);
        Assert.Contains("Too many wrong passwords in a row",
            Review("--password-file", _shop["ann.txt"]).Exits(1).Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void People_keep_their_names_when_they_are_locked_and_change_their_own_passwords()
    {
        _shop.Once();
        Add();
        Assert.Contains("one person's for ever", _shop.Run("people", "add", "ANN reed", "--role", "setter",
            "--password-file", _shop["new.txt"]).Exits(1).Errors, StringComparison.Ordinal);
        _shop.Run("people", "password", "Ann Reed", "--password-file", _shop["wrong.txt"],
            "--new-password-file", _shop["new.txt"]).Exits(1);
        _shop.Run("people", "password", "Ann Reed", "--password-file", _shop["ann.txt"],
            "--new-password-file", _shop["new.txt"]).Exits(0);
        Review("--password-file", _shop["ann.txt"]).Exits(1);
        Review("--password-file", _shop["new.txt"]).Exits(0);
        _shop.Run("people", "lock", "ann reed", "--reason", "left the shop", "--by", "Bob").Exits(0);
        Assert.Contains("locked", Review("--password-file", _shop["new.txt"]).Exits(1).Errors, StringComparison.Ordinal);
        _shop.Run("people", "add", "Ann Reed", "--role", "setter", "--password-file", _shop["ann.txt"]).Exits(1);

        var person = Assert.Single(_shop.Run("people", "list", "--json").Exits(0).Json.EnumerateArray());
        Assert.Equal(("locked", "locked: left the shop", "Bob"),
            (person.Text("state"), person.Text("why"), person.Text("by")));
    }

    [Fact]
    public void While_the_service_holds_the_store_a_review_goes_through_it()
    {
        _shop.Once();
        using var service = _shop.Start("run");
        service.WaitFor("Watching");
        Add();
        Review("--password-file", _shop["ann.txt"]).Exits(0);

        Assert.Equal("accepted", Status());
        Assert.Empty(Directory.EnumerateFiles(Path.Combine(_shop.Folder, "audit", "inbox")));
        service.Stop().Exits(0);
        _shop.Run("verify").Exits(0);
        _shop.Run("rebuild").Exits(0);
    }

    [Theory]
    [InlineData("--verdict", "fine", "accepted")]
    [InlineData("--cause", "gremlins", "riser-height")]
    public void What_is_not_allowed_is_told_with_what_is(string option, string given, string allowed)
    {
        _shop.Once();
        string[] words = ["review", Setup, "--by", "Bob", "--reason", "x", option, given];
        var ran = _shop.Run(option == "--verdict" ? words : [.. words, "--verdict", "accepted"]).Exits(2);

        Assert.Contains(allowed, ran.Errors, StringComparison.Ordinal);
    }

    public void Dispose() => _shop.Dispose();

    private void Add() => _shop.Run(
        "people", "add", "Ann Reed", "--role", "quality", "--password-file", _shop["ann.txt"]).Exits(0);

    private Ran Review(params IReadOnlyList<string> more) => _shop.Run(
        ["review", Setup, "--by", "Ann Reed", "--verdict", "accepted", "--reason", "measured by hand", .. more]);

    private string? Status() => _shop.List("setups")[0].Text("status");
}
