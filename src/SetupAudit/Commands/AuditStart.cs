using System.Security.Cryptography;
using SetupAudit.Auditing;

namespace SetupAudit.Commands;

/// <summary>Begins an audit with the configuration of a command line.</summary>
internal static class AuditStart
{
    public static AuditOptions Options(string config, string command, Terminal terminal, ProgressLine? progress)
    {
        var shop = ShopFile.LoadToRun(config, terminal);
        var written = File.ReadAllBytes(config);
        return new AuditOptions
        {
            Shop = shop,
            Configuration = written,
            ConfigurationSha256 = Convert.ToHexStringLower(SHA256.HashData(written)),
            ProgramVersion = ProgramVersion.Text,
            Command = command,
            Progress = progress is { IsShown: true } ? progress : null,
        };
    }
}
