using System.Data.Common;
using System.Net.Sockets;
using Npgsql;

namespace SetupAudit.Store.Postgres;

/// <summary>What a fault of the server means for whoever runs the service, in a sentence without secrets.</summary>
internal static class PostgresFaults
{
    /// <summary>Why the database cannot be opened: final where trying again cannot help.</summary>
    public static StoreException Opening(Exception fault, string name, string? user) => fault switch
    {
        PostgresException
        {
            SqlState: PostgresErrorCodes.InvalidPassword
            or PostgresErrorCodes.InvalidAuthorizationSpecification
        } refused => Final(fault,
            $"The server refuses the role '{user}' for {name}: {Sentence(refused)} Name the password's file with "
            + "Passfile=... in Store.Postgres, or set the variable PGPASSWORD."),
        PostgresException { SqlState: PostgresErrorCodes.InvalidCatalogName } => Final(fault,
            $"The server does not have {name}. docs/operations.md says how it is made."),
        PostgresException { SqlState: PostgresErrorCodes.InsufficientPrivilege } refused => Final(fault,
            $"The role '{user}' may not use {name}: {Sentence(refused)} deploy/postgres-roles.sql gives it what it "
            + "needs."),
        PostgresException { SqlState: PostgresErrorCodes.CannotConnectNow } starting => Temporary(fault,
            $"The server of {name} does not take connections now: {Sentence(starting)}"),
        PostgresException other => Temporary(fault, $"{Capital(name)} cannot be opened: {Sentence(other)}"),
        NpgsqlException { InnerException: null } and { Message: var said }
            when said.StartsWith("No password", StringComparison.Ordinal) => Final(fault,
            $"The server asks for the password of the role '{user}' for {name}, and none is given. Name its file with "
            + "Passfile=... in Store.Postgres, or set the variable PGPASSWORD."),
        _ => Temporary(fault, $"{Capital(name)} cannot be reached: {Cause(fault)}"),
    };

    /// <summary>The connection is gone: what was not committed is undone by the server.</summary>
    public static DbException Lost(Exception fault) =>
        new NpgsqlException("The connection to the server is lost.", fault);

    /// <summary>The server's own words, as a sentence.</summary>
    public static string Sentence(Exception fault) => fault switch
    {
        PostgresException { MessageText: var text } => text.TrimEnd('.') + ".",
        _ => Cause(fault),
    };

    private static string Cause(Exception fault)
    {
        for (var inner = fault; inner is not null; inner = inner.InnerException)
            if (inner is SocketException or TimeoutException or PostgresException)
                return (inner is PostgresException { MessageText: var text } ? text : inner.Message).TrimEnd('.') + ".";
        return fault.Message.TrimEnd('.') + ".";
    }

    private static string Capital(string name) => char.ToUpperInvariant(name[0]) + name[1..];

    private static StoreException Final(Exception fault, string text) => new(StoreFaultKind.Final, text, fault);

    private static StoreException Temporary(Exception fault, string text) =>
        new(StoreFaultKind.Temporary, text, fault);
}
