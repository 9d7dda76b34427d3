namespace SetupAudit.Shares;

/// <summary>The local file system, and whatever is mounted in it.</summary>
public sealed class LocalFiles : IShareFiles
{
    public void List(string folder, EntryVisitor visit) => throw new NotSupportedException();

    public IShareFile Open(string path) => throw new NotSupportedException();

    public string? Mount(string folder) => throw new NotSupportedException();
}
