using System.Text.Json;

namespace SetupAudit.Support;

/// <summary>What a run of the built program came to.</summary>
/// <param name="Command">The command line, for messages.</param>
/// <param name="ExitCode">0 done; 1 ran, but something is wrong; 2 the command line or configuration is at fault.</param>
/// <param name="Output">Standard output: the data.</param>
/// <param name="Errors">Standard error: everything else.</param>
public sealed record Ran(string Command, int ExitCode, string Output, string Errors)
{
    /// <summary>Standard output as the one JSON document it must be with --json.</summary>
    public JsonElement Json
    {
        get
        {
            try
            {
                using var document = JsonDocument.Parse(Output);
                return document.RootElement.Clone();
            }
            catch (JsonException fault)
            {
                throw new InvalidOperationException($"no JSON document: {fault.Message}\n{this}", fault);
            }
        }
    }

    /// <summary>Fails, with everything that was written, unless the run ended with that status.</summary>
    public Ran Exits(int code)
    {
        if (ExitCode != code) Assert.Fail($"expected exit status {code}\n{this}");
        return this;
    }

    public override string ToString() =>
        $"$ {Command}\nexit status {ExitCode}\n--- standard output\n{Output}\n--- standard error\n{Errors}";
}
