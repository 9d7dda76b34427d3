namespace SetupAudit.Shares;

/// <summary>
/// One share that is dropped again and again while a control writes to it: each version must be kept before the next
/// is written.
/// </summary>
internal sealed class DropRounds
{
    private static readonly TimeSpan Recovery = TimeSpan.FromSeconds(60);
    private static readonly ShareDrop[] Drops = Enum.GetValues<ShareDrop>();

    private readonly RealShare _share;
    private readonly ArrivalLog _log;
    private readonly int _offset;
    private readonly Outages _outages;

    public DropRounds(RealShare share, ArrivalLog log, int offset, Outages outages, TimeSpan settle)
    {
        (_share, _log, _offset, _outages) = (share, log, offset, outages);
        Writer = new ControlWriter(share.Behind, share.Name, settle);
    }

    public ControlWriter Writer { get; }

    public string Machine => _share.Name;

    /// <summary>How long it took from each healed drop to the version kept.</summary>
    public List<(ShareDrop Drop, TimeSpan Time)> Recovered { get; } = [];

    public int Done { get; private set; }

    /// <summary>Versions that were overwritten before they could settle: they may be kept, and need not.</summary>
    public List<(string File, string Sha256)> Hurried { get; } = [];

    public void Run(int drops)
    {
        for (var i = 0; i < drops; i++, Done++) Once(Drops[(i + _offset) % Drops.Length], i);
    }

    private void Once(ShareDrop drop, int number)
    {
        var file = number % 3 == 0 ? "large.nc" : "small.nc";
        var sha256 = "";
        Writer.Print(2);
        void Write() => sha256 = Writer.Overwrite(file, isLarge: number % 3 == 0, () => Writer.Print(1));
        Suffer(drop, number, Write);
        Writer.Print(1);
        var healed = System.Diagnostics.Stopwatch.GetTimestamp();
        ShareGround.Until(() => _log.Of(Machine).Any(one => one.Sha256 == sha256), Recovery,
            () => $"round {number} of {Machine}, {drop}: {file} {sha256[..8]} is kept");
        Recovered.Add((drop, System.Diagnostics.Stopwatch.GetElapsedTime(healed)));
    }

    private void Suffer(ShareDrop drop, int number, Action write)
    {
        switch (drop)
        {
            case ShareDrop.ServerKilled:
                During(_share.KillServer, _share.StartServer, write);
                break;
            case ShareDrop.ServerFrozen:
                During(_share.FreezeServer, _share.ThawServer, write);
                break;
            case ShareDrop.MountKilled:
                During(_share.KillMount, () => { _share.Unmount(); _share.Mount(); }, write);
                break;
            case ShareDrop.MountFrozen:
                During(_share.FreezeMount, _share.ThawMount, write);
                break;
            case ShareDrop.MountEmpty:
                During(_share.Unmount, _share.Mount, write);
                break;
            case ShareDrop.PrintRotated:
                During(_share.KillServer, _share.StartServer, () =>
                {
                    Writer.Rotate(number);
                    Writer.Print(3);
                    write();
                });
                break;
            case ShareDrop.RewrittenWhileRead:
                write();
                Hurried.Add(Writer.Versions[^1]);
                During(_share.FreezeServer, _share.ThawServer, write);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(drop));
        }
    }

    private void During(Action fail, Action heal, Action write)
    {
        fail();
        write();
        Pass(_outages.Next());
        heal();
    }

    private static void Pass(TimeSpan time)
    {
        using var never = new ManualResetEventSlim();
        never.Wait(time, TestContext.Current.CancellationToken);
    }
}
