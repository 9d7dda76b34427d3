using System.CommandLine;
using SetupAudit.Records;
using SetupAudit.Store.Bundles;
using SetupAudit.Store.Stamps;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Commands;

/// <summary><c>verify</c>: checks the record of a store, or a bundle, end to end.</summary>
internal static class VerifyCommand
{
    public static Command Make(Terminal terminal)
    {
        var file = new Argument<string?>("file")
        {
            HelpName = "FILE.zip",
            Description = "A bundle that 'export' wrote. Without it, the record of --config is checked.",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var config = new Option<string?>("--config") { Description = "The configuration file.", HelpName = "FILE" };
        var key = new Option<string?>("--key")
        {
            Description = "The key that the record must be signed with, as it was written down elsewhere.",
            HelpName = "KEY",
        };
        var authority = new Option<string?>("--authority")
        {
            Description = "The certificates in PEM that a time-stamp authority's must lead to, as they were had from "
                + "it; without it those that --config names.",
            HelpName = "FILE",
        };
        var without = new Option<bool>("--without-evidence")
        {
            Description = "Do not hash the kept files again.",
        };
        var json = CommonOptions.Json();
        var command = new Command("verify", "Checks the record, or a bundle, end to end.")
        {
            file, config, key, authority, without, json,
        };
        command.SetAction(async (parsed, token) =>
        {
            var pinned = Key(parsed.GetValue(key));
            var trusted = Authority(parsed.GetValue(authority));
            return (parsed.GetValue(file), parsed.GetValue(config)) switch
            {
                (null, null) => throw new CommandException("verify needs a bundle (FILE.zip) or --config FILE."),
                (not null, not null) => throw new CommandException("verify checks a bundle or --config, not both."),
                (null, { } shop) => Show(
                    await OfStoreAsync(shop, pinned, trusted, !parsed.GetValue(without), terminal, token),
                    parsed.GetValue(json), terminal),
                ({ } bundle, null) => Show(OfBundle(bundle, pinned, trusted, token), parsed.GetValue(json), terminal),
            };
        });
        return command;
    }

    private static async Task<RecordCheck> OfStoreAsync(
        string config, VerifierKey? pinned, string? authority, bool withEvidence, Terminal terminal,
        CancellationToken token)
    {
        var shop = ShopFile.Load(config);
        using var progress = new CountLine(terminal);
        return await StoreVerifier.RunAsync(new VerifyOptions
        {
            Folder = shop.Store.Folder,
            Postgres = shop.Store.Postgres,
            OffBoxFolder = shop.Store.Checkpoints,
            Pinned = pinned,
            AuthorityFile = authority ?? shop.Store.TimeStamps?.CertificateFile,
            WithEvidence = withEvidence,
            Progress = progress,
        }, token);
    }

    private static BundleCheck OfBundle(
        string path, VerifierKey? pinned, string? authority, CancellationToken token)
    {
        if (!File.Exists(path)) throw new CommandException($"{path} is not there.");
        using var archive = File.Open(path, FileMode.Open, FileAccess.Read, FileShare.Read);
        using var trust = authority is null ? null : Trust(authority);
        return BundleVerifier.Run(archive, pinned, trust, token);
    }

    // A person who names certificates wants them used: with none to use nothing is checked.
    private static string? Authority(string? path)
    {
        if (path is null) return null;
        using var trust = Trust(path);
        return Path.GetFullPath(path);
    }

    private static StampTrust Trust(string path) =>
        StampTrust.Read(path, out var reason) ?? throw new CommandException($"--authority: {reason}.");

    private static int Show(RecordCheck check, bool asJson, Terminal terminal)
    {
        if (asJson) VerifyJson.Write(check, terminal);
        else VerifyLines.Write(check, terminal);
        return check.Holds ? ExitCode.Done : ExitCode.SomethingWrong;
    }

    private static int Show(BundleCheck check, bool asJson, Terminal terminal)
    {
        if (asJson) BundleLines.WriteJson(check, terminal);
        else BundleLines.Write(check, terminal);
        return check.Holds ? ExitCode.Done : ExitCode.SomethingWrong;
    }

    private static VerifierKey? Key(string? text)
    {
        if (text is null) return null;
        return VerifierKey.TryRead(text.Trim(), out var key, out var reason)
            ? key
            : throw new CommandException($"--key: this is no key: {reason}.");
    }
}
