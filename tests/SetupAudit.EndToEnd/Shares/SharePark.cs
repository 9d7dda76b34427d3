namespace SetupAudit.Shares;

/// <summary>One share of each kind, mounted.</summary>
internal sealed class SharePark : IDisposable
{
    private readonly List<RealShare> _shares = [];

    public SharePark(ShareGround ground)
    {
        foreach (var recipe in new Func<ShareGround, ShareRecipe>[] { ShareRecipe.SmbNet, ShareRecipe.Rclone, ShareRecipe.Ssh })
            _shares.Add(new RealShare(ground, recipe(ground)));
    }

    public IReadOnlyList<RealShare> All => _shares;

    public void Dispose() => _shares.ForEach(share => share.Dispose());
}
