using System.Text.Json;
using Serilog;
using SetupAudit.Store;

namespace SetupAudit.Alerts;

/// <summary>Where what a person asks of alerts is handed over to the process that holds the store.</summary>
public sealed class AskBox(string storeFolder)
{
    private readonly HandOver _folder = new(storeFolder, "asked", ".ask");

    public static string NewId(DateTimeOffset nowUtc) => HandOver.NewId(nowUtc);

    public void Put(AlertAsk ask) => _folder.Put(ask.Id, JsonSerializer.Serialize(ask));

    /// <summary>Takes back what nobody answered.</summary>
    public void TakeBack(string id) => _folder.TakeBack(id);

    /// <summary>The answer, which is taken away with it; null while there is none.</summary>
    public AlertAnswer? Answer(string id) =>
        _folder.Answer(id) is { } text ? JsonSerializer.Deserialize<AlertAnswer>(text) : null;

    /// <summary>What waits to be done, oldest first; what is none of ours is set aside.</summary>
    public IReadOnlyList<AlertAsk> Waiting() => _folder.Waiting(Parsed);

    /// <summary>Answers; only then is what was asked taken away.</summary>
    public void Say(AlertAnswer answer) => _folder.Say(answer.Id, JsonSerializer.Serialize(answer));

    /// <summary>Takes answers away that nobody came for.</summary>
    public void Tidy(DateTimeOffset nowUtc) => _folder.Tidy(nowUtc);

    private static AlertAsk? Parsed(string id, string text)
    {
        try
        {
            return JsonSerializer.Deserialize<AlertAsk>(text) is { } ask && ask.Id == id ? ask : null;
        }
        catch (JsonException fault)
        {
            Log.Debug(fault, "What was asked as {Ask} cannot be read", id);
            return null;
        }
    }
}
