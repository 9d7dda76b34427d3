namespace SetupAudit.Commands;

/// <summary>Ends a command: a sentence for the person who typed it, and an exit status.</summary>
public sealed class CommandException : Exception
{
    public CommandException()
        : this("The command failed.")
    {
    }

    public CommandException(string message)
        : this(message, ExitCode.AtFault)
    {
    }

    public CommandException(string message, Exception? innerException)
        : base(message, innerException) => Status = ExitCode.AtFault;

    public CommandException(string message, int status)
        : base(message) => Status = status;

    public int Status { get; }
}
