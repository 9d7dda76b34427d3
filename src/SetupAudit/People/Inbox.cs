using System.Text.Json;
using Serilog;
using SetupAudit.Store;

namespace SetupAudit.People;

/// <summary>Where acts of people are handed over to the process that holds the store.</summary>
public sealed class Inbox(string storeFolder)
{
    private readonly HandOver _folder = new(storeFolder, "inbox", ".act");

    public static string NewId(DateTimeOffset nowUtc) => HandOver.NewId(nowUtc);

    /// <summary>Hands an act over; when this returns it is on disk.</summary>
    public void Put(Act act) => _folder.Put(act.Id, PeopleText.Of(act));

    /// <summary>The answer to an act, which is taken away with it; null while there is none.</summary>
    public ActAnswer? Answer(string id) =>
        _folder.Answer(id) is { } text ? PeopleText.Read<ActAnswer>(text) : null;

    /// <summary>What waits to be taken in, oldest first; what is no act is set aside.</summary>
    public IReadOnlyList<Act> Waiting() => _folder.Waiting(Parsed);

    /// <summary>Answers an act; only then is it taken away.</summary>
    public void Say(ActAnswer answer) => _folder.Say(answer.Id, PeopleText.Of(answer));

    /// <summary>Takes answers away that nobody came for, and what was never finished.</summary>
    public void Tidy(DateTimeOffset nowUtc) => _folder.Tidy(nowUtc);

    private static Act? Parsed(string id, string text)
    {
        try
        {
            return PeopleText.Read<Act>(text) is { } act && act.Id == id ? act : null;
        }
        catch (JsonException fault)
        {
            Log.Debug(fault, "What lies in the inbox as {Act} is no act", id);
            return null;
        }
    }
}
