using System.CommandLine;
using System.Globalization;
using SetupAudit.Datums;
using SetupAudit.Readings;
using SetupAudit.Reports;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Tracing;
using SetupAudit.Units;

namespace SetupAudit.Commands;

/// <summary><c>trace</c>: after a scrap event, which change explains the error, and which cycles ran under
/// it.</summary>
internal static class TraceCommand
{
    // In mm: what a micrometer and a careful hand give on a shop floor (common practice, no source).
    private const decimal UsualUncertainty = 0.01m;

    public static Command Make(Terminal terminal)
    {
        var machine = CommonOptions.Machine(required: true);
        var at = new Option<string>(
            "--at")
        { HelpName = "T", Description = "When the bad part was cut.", Required = true };
        var program = CommonOptions.Program();
        var register = new Option<string>("--register") { HelpName = "R", Description = "The register it was cut in." };
        var tool = new Option<string>("--tool") { HelpName = "T", Description = "The tool that cut it." };
        var error = new Option<string>("--error")
        {
            HelpName = "X=0.25,Z=-0.1",
            Description = "Measured minus nominal, from surfaces not cut in the register.",
        };
        var diameter = new Option<string>("--diameter") { HelpName = "D", Description = "Error of a cut size." };
        var inside = new Option<bool>("--inside") { Description = "The size is a bore or pocket." };
        var outside = new Option<bool>("--outside") { Description = "The size is an outside one." };
        var uncertainty = new Option<string>("--uncertainty") { HelpName = "U", Description = "Standard uncertainty." };
        var config = CommonOptions.Config();
        var json = CommonOptions.Json();
        var csv = CommonOptions.Csv();
        var command = new Command(
            "trace", "After a scrap event: which change explains the error, and what ran under it.")
        {
            machine, at, program, register, tool, error, diameter, inside, outside, uncertainty, config, json, csv,
        };
        command.SetAction(async (parsed, token) =>
        {
            var shop = ShopFile.Load(parsed.GetRequiredValue(config));
            if (Named.Machine(shop, parsed.GetRequiredValue(machine)) is not { } of) return ExitCode.AtFault;
            var when = parsed.GetRequiredValue(at);
            var moment = Moments.Parse(new ShopClock(shop), "--at", when) ?? terminal.Time.GetUtcNow();
            var isInside = parsed.GetValue(inside);
            var size = parsed.GetValue(diameter) is { } text ? Number("--diameter", text) : (decimal?)null;
            if (size is not null && isInside == parsed.GetValue(outside))
                throw new CommandException("--diameter: say which with one of --inside and --outside.");
            var part = new PartError
            {
                ByAxis = ByAxis(parsed.GetValue(error)),
                Diameter = size,
                Inside = isInside,
                Uncertainty = parsed.GetValue(uncertainty) is { } given
                    ? Positive("--uncertainty", given)
                    : Length.Convert(UsualUncertainty, Unit.Millimetre, of.Units),
                Register = RegisterOf(of, parsed.GetValue(register)),
                Tool = parsed.GetValue(tool) is { } called ? ToolOf(called) : null,
            };
            if (part.ByAxis.Count == 0 && size is null)
                throw new CommandException("trace needs --error (such as X=0.25,Z=-0.1), --diameter, or both.");
            var asked = parsed.GetValue(program) is { } name ? ProgramName.Normalise(name) : null;
            Func<DateTimeOffset, string> time =
                parsed.GetValue(json) || parsed.GetValue(csv) ? Word.Of : new WallClock(shop).Time;
            var trace = await new TraceQuestion(shop, of, asked, part, moment) { Time = time }.AskAsync(token);
            if (Moments.IsDayOnly(when)) trace = trace with { NotRecorded = [TimeOfDay(when), .. trace.NotRecorded] };
            if (parsed.GetValue(json)) await terminal.Out.WriteLineAsync(ShapeBody.Of(trace));
            else if (parsed.GetValue(csv)) await terminal.Out.WriteAsync(TraceText.Csv(trace));
            else await terminal.Out.WriteAsync(TraceText.Page(trace, shop, part, Length.ShortName(of.Units)));
            return ExitCode.Done;
        });
        return command;
    }

    private static Dictionary<Axis, decimal> ByAxis(string? text)
    {
        var errors = new Dictionary<Axis, decimal>();
        foreach (var item in (text ?? "").Split(
            ',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            var sides = item.Split('=', 2, StringSplitOptions.TrimEntries);
            if (sides.Length != 2 || sides[0].Length != 1
                || !Enum.TryParse<Axis>(sides[0], ignoreCase: true, out var axis)
                || axis == Axis.R || !errors.TryAdd(axis, Number("--error", sides[1])))
                throw new CommandException(
                    $"--error: '{item}' is not allowed; allowed are axes, once each, such as X=0.25,Z=-0.1.");
        }
        return errors;
    }

    private static Register? RegisterOf(MachineConfig machine, string? text) => text is null
        ? null
        : machine.TryParseRegister(text, out var register)
            ? register
            : throw new CommandException(
                $"--register: '{text}' is no register; allowed are G54 ... G59.3, G54.1 Pn, COMMON, G92.");

    private static string TimeOfDay(string day) =>
        $"when on {day} the part was cut: a day alone is taken as its first moment ('list cycles' tells when parts "
        + "ran)";

    // As it is spoken, with the letter or without.
    private static int ToolOf(string text) =>
        int.TryParse(text.TrimStart('T', 't'), NumberStyles.None, CultureInfo.InvariantCulture, out var tool)
            && tool <= OffsetKey.ToolMost
            ? tool
            : throw new CommandException($"--tool: '{text}' is no tool; allowed is its number, such as 3 or T3.");

    private static decimal Positive(string option, string text) => Number(option, text) is > 0m and var value
        ? value
        : throw new CommandException($"{option}: '{text}' must be larger than 0.");

    private static decimal Number(string option, string text) =>
        decimal.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
            CultureInfo.InvariantCulture, out var value)
            ? value
            : throw new CommandException($"{option}: '{text}' is no number; a decimal point is wanted, such as 0.25.");
}
