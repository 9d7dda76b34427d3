using System.Data.Common;
using SetupAudit.Records;

namespace SetupAudit.Store.Tables;

/// <summary>Writes what people did: rows, and what the record says of them, without secrets.</summary>
internal static class PeopleRecord
{
    /// <summary>Nothing is written twice; what was new is said.</summary>
    public static async Task PutAsync(
        DbTransaction transaction, PeopleBatch batch, Action<RecordWord> say, CancellationToken token)
    {
        foreach (var person in batch.People)
            if (await PersonTable.InsertAsync(transaction, person, token)) say(Word(person));
        foreach (var given in batch.SignIns)
            if (await SignInTable.InsertAsync(transaction, given, token)) say(Word(given));
        foreach (var review in batch.Reviews)
            if (await ReviewTable.InsertAsync(transaction, review, token))
                say(new RecordWord(RecordKind.Review, PeopleText.Of(review)));
        foreach (var (machine, mark) in batch.Dirty) await DirtyTable.PutAsync(transaction, machine, mark, token);
    }

    // Neither the salt nor the key: with both, passwords can be guessed at leisure.
    private static RecordWord Word(StoredPerson person) => new(RecordKind.Person, Said.Of(json =>
    {
        json.WriteString("person", person.Person);
        json.WriteString("name", person.Name);
        json.WriteString("role", person.Role);
        json.WriteString("state", person.State);
        json.WriteString("why", person.Why);
        json.WriteString("by", person.ByName);
        json.WriteString("byPerson", person.ByPerson);
        json.WriteString("account", person.Account);
    }));

    private static RecordWord Word(StoredSignIn given) => new(RecordKind.SignIn, Said.Of(json =>
    {
        json.WriteString("person", given.Person);
        json.WriteString("outcome", given.Outcome);
        json.WriteString("purpose", given.Purpose);
        json.WriteString("account", given.Account);
    }));
}
