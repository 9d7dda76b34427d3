using System.Data.Common;
using Serilog;
using SetupAudit.Records;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Records;

/// <summary>
/// Appends checkpoints to a file in a folder off this computer, in a loop of its own: a folder that does not answer
/// holds nothing else up. It compares before it appends, and says when the folder knows another history.
/// </summary>
internal sealed class OffBoxCopy : IAsyncDisposable
{
    private static readonly TimeSpan Again = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(10);

    private readonly StoreDatabase _store;
    private readonly string _origin;
    private readonly string _folder;
    private readonly TimeProvider _clock;
    private readonly AnchorFile _file;
    private readonly SemaphoreSlim _signal = new(0);
    private readonly CancellationTokenSource _cancel = new();
    private readonly TaskCompletionSource _compared = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly Task _loop;
    private volatile SignedNote? _newest;
    private volatile SignedNote? _copied;

    public OffBoxCopy(StoreDatabase store, string folder, string origin, SignedNote? newest, TimeProvider clock)
    {
        (_store, _folder, _origin, _newest, _clock) = (store, folder, origin, newest, clock);
        _file = new AnchorFile(Path.Combine(folder, FileNameOf(origin)));
        _signal.Release();
        _loop = RunAsync(_cancel.Token);
    }

    /// <summary>What the folder says against this record, in words; null where nothing. It does not go away.</summary>
    public string? Conflict { get; private set; }

    /// <summary>Why the newest checkpoint could not be copied; null where it could.</summary>
    public string? Fault { get; private set; }

    /// <summary>The checkpoint that was copied last.</summary>
    public SignedNote? Copied => _copied;

    /// <summary>The name of the file for a record: several shops may share a folder.</summary>
    public static string FileNameOf(string origin) => origin.Replace('/', '-') + "." + AnchorFile.FileName;

    /// <summary>Waits until the folder was compared with the record, or for a while.</summary>
    public async Task ComparedAsync(CancellationToken token)
    {
        try
        {
            await _compared.Task.WaitAsync(LongestWait, _clock, token);
        }
        catch (TimeoutException)
        {
            Fault = $"the folder does not answer within {LongestWait.TotalSeconds:0} s";
            Log.Warning("The checkpoints in {Folder} could not be compared with the record: {Fault}", _folder, Fault);
        }
    }

    /// <summary>Gives it a newer checkpoint to copy.</summary>
    public void Offer(SignedNote note)
    {
        _newest = note;
        _signal.Release();
    }

    public async ValueTask DisposeAsync()
    {
        await _cancel.CancelAsync();
        // A call on a dead mount cannot be broken off; what it was about to copy is copied at the next start.
        await Task.WhenAny(_loop, Task.Delay(LongestWait, _clock, CancellationToken.None));
        _cancel.Dispose();
    }

    private async Task RunAsync(CancellationToken cancel)
    {
        await Task.Yield();
        while (Conflict is null)
        {
            try
            {
                await _signal.WaitAsync(Fault is null ? Timeout.InfiniteTimeSpan : Again, cancel);
            }
            catch (OperationCanceledException)
            {
                await CopyAsync();
                return;
            }
            await CopyAsync();
        }
    }

    private async Task CopyAsync()
    {
        var note = _newest;
        try
        {
            if (!Directory.Exists(_folder)) throw new DirectoryNotFoundException("the folder is not there");
            await CompareAsync();
            if (Conflict is null && note is not null && note != _copied) _file.Append(note);
            (_copied, Fault) = (note, null);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or StoreException
            or DbException)
        {
            if (Fault is null)
                Log.Error("Checkpoints cannot be copied to {Folder}: {Fault}", _folder, fault.Message);
            Fault = fault.Message;
        }
        _compared.TrySetResult();
    }

    private async Task CompareAsync()
    {
        var there = _file.Last();
        if (there is null || there.Text == _copied?.Text) return;
        await using var connection = await _store.OpenReaderAsync(CancellationToken.None);
        var last = await CheckpointTable.LastAsync(connection, CancellationToken.None);
        if (last is null) return;
        Conflict = await AnchorChecks.ConflictAsync(connection, there, _origin, last, CancellationToken.None);
        if (Conflict is not null)
            Log.Error("The checkpoints in {Folder} do not fit this record: the file {Conflict}", _folder, Conflict);
        if (last.ToNote(_origin) is { } own && own.Text == there.Text) _copied = own;
    }
}
