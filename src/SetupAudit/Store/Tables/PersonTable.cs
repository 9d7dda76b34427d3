using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>Accounts: every row is a new word about a person, the newest holds.</summary>
internal static class PersonTable
{
    private const string InsertSql = """
        INSERT INTO person (id, at_utc, person, name, folded, role, locked, salt, passes, memory_kib, check_key, why,
            by_name, by_person, account)
        SELECT @Id, @At_Utc, @Person, @Name, @Folded, @Role, @Locked, @Salt, @Passes, @Memory_Kib, @Check_Key, @Why,
            @By_Name, @By_Person, @Account
        WHERE NOT EXISTS (SELECT 1 FROM person WHERE id = @Id)
        """;

    /// <summary>True where it was new.</summary>
    public static async Task<bool> InsertAsync(
        DbTransaction transaction, StoredPerson person, CancellationToken token) =>
        await transaction.RunAsync(InsertSql, Row.From(person), token) > 0;

    private const string AllSql = """
        SELECT id, at_utc, person, name, folded, role, locked, salt, passes, memory_kib, check_key, why, by_name,
            by_person, account
        FROM person ORDER BY seq
        """;

    public static async Task<IReadOnlyList<StoredPerson>> AllAsync(DbConnection connection, CancellationToken token) =>
        [.. (await connection.QueryAsync<Row>(new CommandDefinition(AllSql, cancellationToken: token)))
            .Select(row => row.ToPerson())];

    private sealed class Row
    {
        public string Id { get; init; } = "";

        public string At_Utc { get; init; } = "";

        public string Person { get; init; } = "";

        public string Name { get; init; } = "";

        public string Folded { get; init; } = "";

        public string Role { get; init; } = "";

        public long Locked { get; init; }

        public string Salt { get; init; } = "";

        public long Passes { get; init; }

        public long Memory_Kib { get; init; }

        public string Check_Key { get; init; } = "";

        public string Why { get; init; } = "";

        public string? By_Name { get; init; }

        public string? By_Person { get; init; }

        public string Account { get; init; } = "";

        public static Row From(StoredPerson person) => new()
        {
            Id = person.Id,
            At_Utc = UtcText.Of(person.AtUtc),
            Person = person.Person,
            Name = person.Name,
            Folded = person.Folded,
            Role = person.Role,
            Locked = person.Locked ? 1 : 0,
            Salt = Convert.ToBase64String(person.Salt),
            Passes = person.Passes,
            Memory_Kib = person.MemoryKib,
            Check_Key = Convert.ToBase64String(person.CheckKey),
            Why = person.Why,
            By_Name = person.ByName,
            By_Person = person.ByPerson,
            Account = person.Account,
        };

        public StoredPerson ToPerson() => new()
        {
            Id = Id,
            AtUtc = UtcText.Read(At_Utc),
            Person = Person,
            Name = Name,
            Folded = Folded,
            Role = Role,
            Locked = Locked != 0,
            Salt = Convert.FromBase64String(Salt),
            Passes = (int)Passes,
            MemoryKib = (int)Memory_Kib,
            CheckKey = Convert.FromBase64String(Check_Key),
            Why = Why,
            ByName = By_Name,
            ByPerson = By_Person,
            Account = Account,
        };
    }
}
