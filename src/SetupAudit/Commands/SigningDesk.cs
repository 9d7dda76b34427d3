using SetupAudit.Auditing;
using SetupAudit.People;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>Where a person proves a name with a password, and what was done is handed over.</summary>
internal sealed class SigningDesk(AuditOptions options, StoreReader store, Terminal terminal)
{
    private readonly ActSender _sender = new(options, terminal);

    /// <summary>The account of the operating system that runs this.</summary>
    public static string Account => Environment.UserName;

    public Task<ActAnswer> SendAsync(Act act, CancellationToken token) => _sender.SendAsync(act, token);

    /// <summary>
    /// Name and password, from the file or typed; null where none was given, so that nobody proves the name. Throws
    /// where they do not fit, and keeps that they did not.
    /// </summary>
    public async Task<SignedIn?> SignInAsync(
        string name, string option, string? file, string purpose, CancellationToken token)
    {
        var password = file is not null ? PasswordInput.FromFile(option, file) : await TypedAsync(name, token);
        if (string.IsNullOrEmpty(password)) return null;
        var door = new SignInDoor(store, terminal.Time);
        var signed = await door.TryAsync(name, password, purpose, Account, token);
        if (signed.Person is null)
        {
            if (signed.Given is { } given) await SendAsync(PersonActs.Failed(given), token);
            throw new CommandException($"{signed.Says} Nothing was signed or done.", ExitCode.SomethingWrong);
        }
        if (signed.Person.Passes >= PersonKey.Passes && signed.Person.MemoryKib >= PersonKey.MemoryKib) return signed;
        return await RaisedAsync(signed, name, password, purpose, token);
    }

    // The cost of guessing was raised since: the same password makes a new key.
    private async Task<SignedIn?> RaisedAsync(
        SignedIn signed, string name, string password, string purpose, CancellationToken token)
    {
        using (signed)
        {
            var given = new PersonGiven(
                name, terminal.Time.GetUtcNow(), "the cost of guessing the password was raised", null, Account);
            await SendAsync(PersonActs.Password(given, signed, password), token);
        }
        return await new SignInDoor(store, terminal.Time).TryAsync(name, password, purpose, Account, token);
    }

    private async Task<string?> TypedAsync(string name, CancellationToken token)
    {
        if (terminal.AskSecret is not { } ask) return null;
        if ((await PeopleList.ReadAsync(store, token)).Named(name) is null) return null;
        return ask($"Password of {PersonName.Normal(name)} (none, and nobody proves the name): ");
    }
}
