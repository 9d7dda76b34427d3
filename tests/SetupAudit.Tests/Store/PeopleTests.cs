using Microsoft.Data.Sqlite;
using SetupAudit.Records;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store;

public sealed class PeopleTests
{
    [Fact]
    public async Task What_is_kept_twice_is_kept_once_and_comes_back_whole()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();

        await store.PutPeopleAsync(PeopleBatches.One(), Token);
        var size = store.Record?.Size;
        await store.PutPeopleAsync(PeopleBatches.One(), Token);

        Assert.Equal(size, store.Record?.Size);
        var person = Assert.Single(await store.Reader.PeopleAsync(Token));
        Assert.Equal(("Ann Reed", "quality", 32), (person.Name, person.Role, person.CheckKey.Length));
        Assert.Single(await store.Reader.SignInsAsync("person-one", 10, Token));
        var review = Assert.Single(await store.Reader.ReviewsAsync(Token));
        Assert.Equal(PeopleText.Of(PeopleBatches.Review("one")), PeopleText.Of(review));
    }

    [Fact]
    public async Task A_name_is_one_persons_for_ever()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        await store.PutPeopleAsync(PeopleBatches.One(), Token);

        var fault = await Assert.ThrowsAsync<StoreException>(() => store.PutPeopleAsync(
            new PeopleBatch { People = [PeopleBatches.Person("two", "Ann Reed")] }, Token));

        Assert.IsType<SqliteException>(fault.InnerException);
        Assert.Contains("another person", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_record_says_who_did_what_and_neither_salt_nor_key()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        var person = PeopleBatches.Person("one", "Ann Reed") with { Salt = [.. Enumerable.Repeat((byte)0xAB, 16)] };
        await store.PutPeopleAsync(PeopleBatches.One() with { People = [person] }, Token);

        var said = new List<string>();
        await foreach (var entry in store.Reader.EntriesAsync(
            [RecordKind.Person, RecordKind.SignIn, RecordKind.Review], Token))
            said.Add($"{entry.Kind} {entry.Said}");

        Assert.Equal(["Person", "SignIn", "Review"], said.Select(line => line.Split(' ')[0]));
        Assert.Contains("\"name\":\"Ann Reed\"", said[0], StringComparison.Ordinal);
        Assert.DoesNotContain(said, line => line.Contains(Convert.ToBase64String(person.Salt), StringComparison.Ordinal));
        Assert.DoesNotContain(said, line => line.Contains("checkKey", StringComparison.Ordinal));
    }
}
