using SetupAudit.Setups;

namespace SetupAudit.Store;

/// <summary>What people did, written together. Rows whose ids are there already are left out.</summary>
public sealed record PeopleBatch
{
    public IReadOnlyList<StoredPerson> People { get; init; } = [];

    public IReadOnlyList<StoredSignIn> SignIns { get; init; } = [];

    public IReadOnlyList<Review> Reviews { get; init; } = [];

    /// <summary>What must be folded again for it.</summary>
    public IReadOnlyDictionary<string, DirtyMark> Dirty { get; init; } = new Dictionary<string, DirtyMark>();
}
