using System.Security.Cryptography;
using System.Text.Json;
using SetupAudit.Shop;

namespace SetupAudit.Auditing;

/// <summary>
/// A digest of all in a configuration that what is derived of one machine rests on. Where it is the same, nothing of
/// that machine need be derived again, whatever else was written: a comment, whom to alert, how often to look.
/// </summary>
internal static class DerivationBasis
{
    /// <param name="machine">
    /// Its name; one that the configuration does not name rests on that alone. The sheets ("") rest on all machines.
    /// </param>
    public static string Of(ShopConfig shop, string machine)
    {
        var machines = shop.Machines.Where(one => machine == SheetFindings.Sheets || one.Name == machine);
        var read = shop with
        {
            // What derivation never reads: it is left out by name, so that a new key counts until it is known better.
            FreshMinutes = 0,
            Store = new StoreConfig("", null),
            Alerts = null,
            WebUrl = "",
            OtlpUrl = null,
            Sheets = shop.Sheets is { } sheets ? new SheetsConfig(sheets.Folder, "") : null,
            Machines = [.. machines.Select(one => one with { Watch = [.. one.Watch.Select(Read)] })],
        };
        return Convert.ToHexStringLower(SHA256.HashData(Bytes(read)));
    }

    internal static byte[] Bytes(ShopConfig shop) =>
        JsonSerializer.SerializeToUtf8Bytes(shop, BasisShape.Default.ShopConfig);

    // How a folder is reached and how often; what is taken in from it stays what it is.
    private static WatchConfig Read(WatchConfig watch) => watch with
    {
        FullFolder = "",
        Sftp = null,
        Poll = TimeSpan.Zero,
        Settle = TimeSpan.Zero,
        Rehash = TimeSpan.Zero,
    };
}
