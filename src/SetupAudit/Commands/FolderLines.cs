using SetupAudit.Reports;
using SetupAudit.Shares;
using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>
/// What <c>check</c> says of watched folders, and of the secrets for those on servers, that are not there now. It is no
/// fault: a share may be away. A name that was mistyped looks the same, and nobody would see it.
/// </summary>
internal static class FolderLines
{
    // A dead mount keeps whoever asks waiting, and an upgrade waits for the answer.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    public static IEnumerable<string> Missing(ShopConfig shop)
    {
        var looks = ShareSource.All(shop).Where(source => source.Watch.Sftp is null)
            .DistinctBy(source => source.Watch.FullFolder).Select(source => new Look(source)).ToList();
        var until = Environment.TickCount64 + (long)Patience.TotalMilliseconds;
        foreach (var look in looks)
            if (look.Says(until) is { } says)
                yield return VisibleText.Of($"{look.Source}: {look.Source.Watch.FullFolder} {says}");
        foreach (var source in ShareSource.All(shop))
        {
            if (source.Watch.Sftp is not { } sftp || (sftp.KeyFile ?? sftp.PasswordFile) is not { } secret) continue;
            if (!File.Exists(secret))
                yield return VisibleText.Of($"{source}: {(sftp.KeyFile is null ? "PasswordFile" : "KeyFile")} {secret} "
                    + $"is not there, or not for {Environment.UserName} to see; nothing is read until it is.");
        }
    }

    private sealed class Look
    {
        private readonly Thread _thread;
        private volatile bool _isThere;

        public Look(ShareSource source)
        {
            Source = source;
            _thread = new Thread(() => _isThere = Directory.Exists(source.Watch.FullFolder)) { IsBackground = true };
            _thread.Start();
        }

        public ShareSource Source { get; }

        public string? Says(long until)
        {
            var left = Math.Max(0, until - Environment.TickCount64);
            return !_thread.Join((int)left) ? "does not answer; the share may be away."
                : _isThere ? null
                : $"is not there, or not for {Environment.UserName} to see; it is read as soon as it is.";
        }
    }
}
