using Serilog;
using SetupAudit.People;

namespace SetupAudit.Auditing;

/// <summary>
/// Takes in what people handed over, derives what it changes, and only then answers: who asked sees it in the lists.
/// </summary>
internal sealed class ActDesk(AuditSession session, Inbox inbox, TimeProvider clock)
{
    /// <param name="derive">Derives a machine; null where all are derived anyway.</param>
    public async Task TakeAsync(Func<string, Task>? derive, CancellationToken token)
    {
        foreach (var act in inbox.Waiting())
        {
            var answer = await session.Acts.TakeAsync(act, token);
            if (answer.Outcome == ActOutcome.Done)
                Log.Information("Took in {Act} of a person as {Id}", act.Kind, act.Id);
            else Log.Information("Did not take in {Act} of a person as {Id}: {Reason}", act.Kind, act.Id, answer.Says);
            if (act.Review is not null && derive is not null && answer.Outcome == ActOutcome.Done)
                foreach (var machine in session.Machines)
                    if (machine == act.Review.Machine || act.Review.Cause is not null) await derive(machine);
            inbox.Say(answer);
        }
    }

    public void Tidy() => inbox.Tidy(clock.GetUtcNow());
}
