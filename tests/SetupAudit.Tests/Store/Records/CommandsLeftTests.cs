using System.Collections;
using System.Reflection;
using Microsoft.Data.Sqlite;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Records;

/// <summary>
/// A service writes through one connection for months. It looks through all commands that were not disposed whenever one
/// is, so that a single one left by each transaction makes writing slower for ever.
/// </summary>
public sealed class CommandsLeftTests
{
    [Fact]
    public async Task A_transaction_leaves_no_command_with_the_connection()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        await WriteAsync(store, 0);
        var before = CommandsOf(store);
        for (var number = 1; number <= 20; number++) await WriteAsync(store, number);
        Assert.Equal(before, CommandsOf(store));
    }

    private static async Task WriteAsync(AuditStore store, int number)
    {
        await store.TakeInAsync(Batch(Dump($"dump {number}", number)), Token);
        await store.PutReadAsync(await ReadAllAsync(store), Token);
        await store.ReplaceDerivedAsync(Verifying.RecordedStore.Derived(number), Token);
        await store.SayAsync([StoreWords.Stopped("once")], Token);
    }

    // The library has no other way to tell.
    private static int CommandsOf(AuditStore store)
    {
        const BindingFlags Inside = BindingFlags.Instance | BindingFlags.NonPublic;
        var connection = typeof(AuditStore).GetField("_connection", Inside)?.GetValue(store);
        var commands = typeof(SqliteConnection).GetField("_commands", Inside)?.GetValue(connection);
        return Assert.IsAssignableFrom<ICollection>(commands).Count;
    }
}
