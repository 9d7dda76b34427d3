using System.Data.Common;
using SetupAudit.Records;

namespace SetupAudit.Store.Records;

/// <summary>The record of an open store: its sequencer, and the places that its checkpoints are appended to.</summary>
internal sealed class RecordKeeper : IAsyncDisposable
{
    private readonly RecordSequencer _sequencer;
    private readonly AnchorFile _anchor;
    private readonly OffBoxCopy? _offBox;
    private readonly string _keyPath;
    private readonly bool _isNew;
    private string? _anchored;

    private RecordKeeper(RecordSequencer sequencer, AnchorFile anchor, OffBoxCopy? offBox, string keyPath)
    {
        (_sequencer, _anchor, _offBox, _keyPath) = (sequencer, anchor, offBox, keyPath);
        _anchored = anchor.Last()?.Text;
        _isNew = sequencer.Newest is null;
    }

    /// <summary>How the record stands.</summary>
    public RecordStanding Standing => new(_sequencer.Identity.Origin, _sequencer.Size)
    {
        IsNew = _isNew,
        IsAnchored = _sequencer.Newest is null || _sequencer.Newest.Text == _anchored,
        HasOffBox = _offBox is not null,
        OffBoxFault = _offBox?.Conflict ?? _offBox?.Fault,
        IsOffBox = _offBox?.Copied is { } copied && copied.Text == _sequencer.Newest?.Text,
    };

    public static async Task<RecordKeeper> OpenAsync(DbConnection connection, StoreDatabase database,
        RecordOptions options, TimeProvider time, CancellationToken token)
    {
        var folder = database.Folder;
        var (sequencer, anchor) = await RecordHome.OpenAsync(connection, folder, options, token);
        var offBox = options.OffBoxFolder is { } other
            ? new OffBoxCopy(database, other, sequencer.Identity.Origin, sequencer.Newest, time)
            : null;
        var keeper = new RecordKeeper(
            sequencer, anchor, offBox, RecordHome.KeyPath(folder, options));
        try
        {
            if (offBox is not null) await offBox.ComparedAsync(token);
            keeper.RequireNoConflict();
            // A crash may have come between a commit and its checkpoint in the file.
            keeper.Anchor();
            return keeper;
        }
        catch (Exception)
        {
            await keeper.DisposeAsync();
            throw;
        }
    }

    public void Say(RecordWord word) => _sequencer.Say(word);

    /// <summary>The public half of the key that signs now.</summary>
    public VerifierKey Key => _sequencer.Identity.Key.Verifier;

    /// <summary>Makes the next key and has it sign the transaction that is going on, with the old one.</summary>
    public void BeginNextKey(KeyOrder order) =>
        _sequencer.SignWith(KeyRotation.Prepare(_keyPath, _sequencer.Identity.Origin), order);

    /// <summary>Ends a committed change of keys: the old one is destroyed, the new one takes its name.</summary>
    public void EndFormerKey(Action<StoreStep>? onStep) => KeyRotation.PutInPlace(_keyPath, onStep);

    /// <summary>Writes what was said with a transaction. Throws where another history is known off this box.</summary>
    public Task WriteAsync(DbTransaction transaction, DateTimeOffset nowUtc, CancellationToken token)
    {
        RequireNoConflict();
        return _sequencer.WriteAsync(transaction, nowUtc, token);
    }

    public void Committed() => _sequencer.Committed();

    public void Forget() => _sequencer.Forget();

    /// <summary>Appends the newest checkpoint where it was not yet; rows are committed before, never after.</summary>
    public void Anchor()
    {
        if (_sequencer.Newest is not { } newest || newest.Text == _anchored) return;
        _anchor.Append(newest);
        _anchored = newest.Text;
        _offBox?.Offer(newest);
    }

    public async ValueTask DisposeAsync()
    {
        if (_offBox is not null) await _offBox.DisposeAsync();
        _sequencer.Dispose();
    }

    private void RequireNoConflict()
    {
        if (_offBox?.Conflict is { } conflict)
            throw new StoreException(StoreFaultKind.Final, $"The checkpoints kept off this computer do not fit this "
                + $"record: the file there {conflict}. The store may be an older copy that was put back. Nothing more "
                + "is written: a second history is never signed. Put back the newest copy of the store.");
    }
}
