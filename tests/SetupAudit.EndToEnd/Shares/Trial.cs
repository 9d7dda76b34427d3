using System.Runtime.ExceptionServices;

namespace SetupAudit.Shares;

/// <summary>Something that runs on a thread of its own and may fail there.</summary>
internal sealed class Trial
{
    private readonly Thread _thread;
    private volatile Exception? _failure;

    public Trial(Action run)
    {
        _thread = new Thread(() => Run(run)) { IsBackground = true };
        _thread.Start();
    }

    public bool HasEnded => !_thread.IsAlive;

    public void ThrowIfFailed()
    {
        if (_failure is { } failure) ExceptionDispatchInfo.Throw(failure);
    }

    private void Run(Action run)
    {
        try
        {
            run();
        }
        catch (Exception failure)
        {
            // An exception that leaves a thread would end the whole test run; it is thrown where the test waits.
            _failure = failure;
        }
    }
}
