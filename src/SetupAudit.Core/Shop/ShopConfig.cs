namespace SetupAudit.Shop;

/// <summary>The whole configuration, checked and with its defaults filled in.</summary>
public sealed record ShopConfig
{
    public required string Name { get; init; }

    /// <summary>IANA name of the shop's time zone.</summary>
    public required string TimeZone { get; init; }

    /// <summary>How old the last word of a machine's sources may be before <c>ready</c> answers "unknown".</summary>
    public int FreshMinutes { get; init; } = 60;

    public required StoreConfig Store { get; init; }

    public required IReadOnlyList<MachineConfig> Machines { get; init; }

    public IReadOnlyDictionary<string, PrintOutConfig> PrintOuts { get; init; } =
        new Dictionary<string, PrintOutConfig>(StringComparer.Ordinal);

    public SetupsConfig Setups { get; init; } = new();

    public SheetsConfig? Sheets { get; init; }

    /// <summary>Severity per rule name where the configuration sets one; null turns the rule off.</summary>
    public IReadOnlyDictionary<string, Severity?> Rules { get; init; } =
        new Dictionary<string, Severity?>(StringComparer.Ordinal);

    /// <summary>Weight per cause name where the configuration sets one.</summary>
    public IReadOnlyDictionary<string, decimal> Causes { get; init; } =
        new Dictionary<string, decimal>(StringComparer.Ordinal);

    public IReadOnlyList<LimitConfig> Limits { get; init; } = [];

    public AlertsConfig? Alerts { get; init; }

    /// <summary>Where the page listens; loopback until configured otherwise.</summary>
    public string WebUrl { get; init; } = "http://127.0.0.1:8460";

    /// <summary>The collector that figures are sent to by OTLP; null where none are sent.</summary>
    public string? OtlpUrl { get; init; }

    public MachineConfig? Machine(string name) =>
        Machines.FirstOrDefault(machine => string.Equals(machine.Name, name, StringComparison.Ordinal));
}
