namespace SetupAudit.Commands;

/// <summary>A configuration file as it was read, before anything in it was looked at.</summary>
/// <param name="File">As it was given on the command line.</param>
/// <param name="Folder">The folder it lies in, from which its relative paths lead.</param>
internal sealed record ConfigurationBytes(string File, string Folder)
{
    public byte[] Bytes { get; init; } = [];

    /// <summary>Empty where it could not be read.</summary>
    public string Sha256 { get; init; } = "";

    /// <summary>Why it could not be read; null where it could.</summary>
    public string? Fault { get; init; }
}
