namespace SetupAudit.Shares;

/// <summary>
/// Passes every call on and notes since when the one in hand has not come back: no call on a dead mount can be
/// cancelled, so another thread must be able to tell.
/// </summary>
internal sealed class TimedFiles(IShareFiles files, TimeProvider time) : IShareFiles
{
    private long _busySince;

    /// <summary>How long the share has not answered; zero between calls.</summary>
    public TimeSpan Silence
    {
        get
        {
            var since = Interlocked.Read(ref _busySince);
            return since == 0 ? TimeSpan.Zero : time.GetElapsedTime(since);
        }
    }

    /// <summary>Closes a connection of its own; what others share stays open.</summary>
    public void Close()
    {
        if (files is SftpFiles server) server.Dispose();
    }

    public void List(string folder, EntryVisitor visit)
    {
        Begin();
        try
        {
            files.List(folder, (name, kind, stamp) =>
            {
                Begin();
                visit(name, kind, stamp);
            });
        }
        finally
        {
            End();
        }
    }

    public IShareFile Open(string path)
    {
        Begin();
        try
        {
            return new TimedFile(this, files.Open(path));
        }
        finally
        {
            End();
        }
    }

    public string? Mount(string folder)
    {
        Begin();
        try
        {
            return files.Mount(folder);
        }
        finally
        {
            End();
        }
    }

    private void Begin() => Interlocked.Exchange(ref _busySince, Math.Max(1, time.GetTimestamp()));

    private void End() => Interlocked.Exchange(ref _busySince, 0);

    private sealed class TimedFile(TimedFiles owner, IShareFile file) : IShareFile
    {
        public FileStamp Stat()
        {
            owner.Begin();
            try
            {
                return file.Stat();
            }
            finally
            {
                owner.End();
            }
        }

        public int Read(Span<byte> buffer, long offset)
        {
            owner.Begin();
            try
            {
                return file.Read(buffer, offset);
            }
            finally
            {
                owner.End();
            }
        }

        public void Dispose()
        {
            owner.Begin();
            try
            {
                file.Dispose();
            }
            finally
            {
                owner.End();
            }
        }
    }
}
