using SetupAudit.Auditing;
using SetupAudit.People;
using SetupAudit.Shares;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>
/// Hands an act to whoever holds the store and waits for the answer; where nobody does, holds it for that long itself.
/// </summary>
internal sealed class ActSender(AuditOptions options, Terminal terminal)
{
    private static readonly TimeSpan LookEvery = TimeSpan.FromMilliseconds(100);
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    private readonly Inbox _inbox = new(options.Shop.Store.Folder);

    public async Task<ActAnswer> SendAsync(Act act, CancellationToken token)
    {
        _inbox.Put(act);
        var clock = terminal.Time;
        var began = clock.GetTimestamp();
        while (true)
        {
            if (_inbox.Answer(act.Id) is { } answer) return answer;
            if (await TakeAsync(token)) continue;
            if (clock.GetElapsedTime(began) > Patience)
                throw new CommandException("The process that holds the store has not answered for a minute. What was "
                    + $"asked is handed over as {act.Id} and will be taken in when it does, or by the next 'once'; "
                    + "'setupaudit list reviews' and 'setupaudit people list' show what is kept.",
                    ExitCode.SomethingWrong);
            await Task.Delay(LookEvery, clock, token);
        }
    }

    // False where another process holds the store: that one takes it in.
    private async Task<bool> TakeAsync(CancellationToken token)
    {
        try
        {
            await new Auditor(options, new LocalFiles(), terminal.Time).TakeActsAsync(token);
            return true;
        }
        catch (StoreException fault) when (fault.IsHeld)
        {
            return false;
        }
    }
}
