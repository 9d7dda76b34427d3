using SetupAudit.Changes;
using SetupAudit.Evidence;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// What a machine's fold looks things up in: its programs and waiting files, and everybody's sheets and reviews.
/// </summary>
internal sealed class Shelves(SheetShelf sheets, ReviewShelf reviews)
{
    public ProgramShelf Programs { get; } = new();

    public ToLoadShelf ToLoad { get; } = new();

    public SheetShelf Sheets { get; } = sheets;

    public ReviewShelf Reviews { get; } = reviews;

    /// <summary>Every review that is kept.</summary>
    public static async Task<ReviewShelf> ReviewsAsync(StoreReader kept, CancellationToken token)
    {
        var shelf = new ReviewShelf();
        foreach (var review in await kept.ReviewsAsync(token)) shelf.Add(review);
        return shelf;
    }

    /// <summary>Fills the shelves with what is kept of a machine, or of the sheets for an empty name.</summary>
    public async Task LoadAsync(string machine, StoreReader kept, ArrivalReader reader, CancellationToken token)
    {
        await foreach (var item in kept.ShelfAsync(machine, token))
            Take(item.Body is { } body
                ? new ReadArrival
                {
                    Stored = item.Arrival,
                    Status = ArrivalStatus.Read,
                    Program = ReadingText.Read<ProgramText>(body.Span),
                }
                : await reader.ReadAsync(item.Arrival, null, token));
    }

    public void Take(ReadArrival read)
    {
        if (read.Program is { } program) Programs.Add(program);
        if (read.Sheet is { } sheet) Sheets.Add(sheet);
        if (read.Waiting is not { } waiting) return;
        foreach (var offset in waiting.Offsets)
            if (offset is { How: ReadingHow.Stands, Value: { } value })
                ToLoad.Add(waiting.AtUtc, offset.Key, value, waiting.At(offset.Line));
    }
}
