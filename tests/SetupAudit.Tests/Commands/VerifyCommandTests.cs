using System.Text.Json;
using Microsoft.Data.Sqlite;

namespace SetupAudit.Commands;

public sealed class VerifyCommandTests : IDisposable
{
    private readonly CommandBench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public async Task A_good_record_ends_with_0_and_says_how_far_it_holds_and_not_only_that()
    {
        await _bench.FillAsync();

        var (status, written, errors) = await _bench.RunAsync("verify");

        Assert.Equal((0, ""), (status, errors));
        Assert.Matches(@"^setupaudit/shop/[0-9a-f]{16}: verified to (\d+) of \1, anchored at \1\.\n", written);
        Assert.Matches(@"(?m)^Anchored at \d+ in .*checkpoints\.txt\.$", written);
        Assert.Matches(@"(?m)^\d+ signed checkpoints hold, \d+ rows as sealed, 1 files of evidence hashed again\.$", written);
        Assert.Matches(@"(?m)^Signed with the key that the record names itself: setupaudit/shop/\S+\. Whoever swaps the "
            + @"whole store can swap it too: write it down elsewhere and give it with --key\.$", written);
    }

    [Fact]
    public async Task The_same_as_one_json_document()
    {
        await _bench.FillAsync();
        var (status, written, _) = await _bench.RunAsync("verify", "--json", "--without-evidence");
        Assert.Equal(0, status);
        var root = JsonDocument.Parse(written).RootElement;
        Assert.True(root.GetProperty("holds").GetBoolean());
        Assert.Equal(root.GetProperty("entries").GetInt64(), root.GetProperty("verifiedTo").GetInt64());
        Assert.Equal(root.GetProperty("entries").GetInt64(), root.GetProperty("anchoredAt").GetInt64());
        Assert.Equal(JsonValueKind.Null, root.GetProperty("evidence").ValueKind);

        var key = root.GetProperty("key").GetString() ?? "";
        (status, written, _) = await _bench.RunAsync("verify", "--key", key);
        Assert.Equal(0, status);
        Assert.Contains($"Signed with the key that was given: {key}.\n", written, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_altered_row_ends_with_1_and_names_the_first_entry_and_why()
    {
        await _bench.FillAsync();
        using (var connection = new SqliteConnection($"Data Source={_bench["audit/audit.db"]};Pooling=False"))
        {
            connection.Open();
            using var command = connection.CreateCommand();
            command.CommandText = "DROP TRIGGER arrival_update; UPDATE arrival SET machine = 'mill-4'";
            command.ExecuteNonQuery();
        }

        var (status, written, errors) = await _bench.RunAsync("verify");

        Assert.Equal((1, ""), (status, errors));
        Assert.Matches(@"^setupaudit/shop/[0-9a-f]{16}: verified to (\d+) of \d+, anchored at \d+\.\n", written);
        Assert.Matches(@"(?m)^First wrong \[rows-altered\]: the rows 1 to 1 of the table arrival are not those that entry \d+ "
            + @"sealed: something in them was altered\.$", written);
        Assert.Contains("Also wrong [database-rebuilt]: the database lacks the trigger arrival_update that the program builds.\n", written, StringComparison.Ordinal);
        Assert.EndsWith("NOT VERIFIED. Keep the folder as it is for whoever looks into it, and rest no decision about a part "
            + "or a machine on this record before it is explained.\n", written, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_store_that_is_not_there_is_a_failure_and_not_an_empty_success()
    {
        var (status, written, _) = await _bench.RunAsync("verify");
        Assert.Equal(1, status);
        Assert.StartsWith("No record could be verified.\nFirst wrong [no-store]: there is no record in ", written, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_it_is_to_check_and_with_which_key_must_be_said_rightly()
    {
        Assert.Equal((2, "", "verify needs a bundle (FILE.zip) or --config FILE.\n"), Lf(await CommandBench.RunAloneAsync("verify")));
        Assert.Equal((2, "", "verify checks a bundle or --config, not both.\n"), Lf(await _bench.RunAsync("verify", "b.zip")));
        Assert.Equal((2, "", "--key: this is no key: a key is written NAME+ID+BASE64.\n"), Lf(await _bench.RunAsync("verify", "--key", "none")));
    }

    private static (int, string, string) Lf((int Status, string Out, string Errors) ran) =>
        (ran.Status, ran.Out, ran.Errors.ReplaceLineEndings("\n"));
}
