using System.CommandLine;

namespace SetupAudit.Commands;

/// <summary>Options that several commands share, worded once.</summary>
internal static class CommonOptions
{
    public static Option<string> Config() => new("--config")
    {
        Description = "The configuration file.",
        HelpName = "FILE",
        Required = true,
    };

    public static Option<string> Machine(bool required) => new("--machine")
    {
        Description = required ? "The machine, as the configuration names it." : "Only this machine.",
        HelpName = "M",
        Required = required,
    };

    public static Option<string> Program() => new("--program")
    {
        Description = "Only this program: its number (leading zeros do not matter) or name.",
        HelpName = "P",
    };

    public static Option<string> PasswordFile(string about) => new("--password-file")
    {
        Description = $"{about} One line of UTF-8.",
        HelpName = "FILE",
    };

    public static Option<bool> Json() => new("--json") { Description = "Write one JSON document." };

    public static Option<bool> Csv() => new("--csv") { Description = "Write RFC 4180 with a header." };
}
