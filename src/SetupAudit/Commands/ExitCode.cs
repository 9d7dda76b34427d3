namespace SetupAudit.Commands;

/// <summary>The exit statuses of contract section 1.</summary>
public static class ExitCode
{
    public const int Done = 0;

    /// <summary>It ran, but something is wrong: an arrival could not be read, a check failed.</summary>
    public const int SomethingWrong = 1;

    /// <summary>The command line or the configuration is at fault.</summary>
    public const int AtFault = 2;
}
