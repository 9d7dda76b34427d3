using SetupAudit.Auditing;

namespace SetupAudit.Commands;

/// <summary>Begins an audit with the configuration of a command line.</summary>
internal static class AuditStart
{
    public static AuditOptions Options(string config, string command, Terminal terminal, ProgressLine? progress)
    {
        var loaded = ShopFile.LoadToRun(config);
        return new AuditOptions
        {
            Shop = loaded.Config ?? throw new InvalidOperationException("a configuration with faults was loaded"),
            Configuration = loaded.Bytes,
            ConfigurationSha256 = loaded.Sha256,
            ProgramVersion = ProgramVersion.Text,
            Command = command,
            Progress = progress is { IsShown: true } ? progress : null,
        };
    }
}
