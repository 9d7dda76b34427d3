using System.Diagnostics;
using System.Text;

namespace SetupAudit.Support;

/// <summary>
/// The program as it was built, run as a child process, in a culture and time zone that are not the shop's.
/// SETUPAUDIT_PROGRAM names another executable to test, for example a published one.
/// </summary>
public static class BuiltProgram
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);

    /// <summary>Runs a command to its end in a folder; one that does not end is killed with its children, and fails.</summary>
    public static Ran Run(string folder, params IReadOnlyList<string> arguments)
    {
        using var running = Start(folder, arguments);
        return running.End(Patience);
    }

    /// <summary>Runs a command to its end under another program, such as one that makes system calls fail.</summary>
    public static Ran RunUnder(IReadOnlyList<string> tool, string folder, params IReadOnlyList<string> arguments)
    {
        using var running = Start(folder, tool, new Dictionary<string, string>(), arguments);
        return running.End(Patience);
    }

    /// <summary>Starts a command that is to go on, such as `run`.</summary>
    public static RunningProgram Start(string folder, params IReadOnlyList<string> arguments) =>
        Start(folder, [], new Dictionary<string, string>(), arguments);

    /// <summary>Starts it by other words in front, such as those of a program that runs it with limits.</summary>
    public static RunningProgram Start(string folder, IReadOnlyList<string> before,
        IReadOnlyDictionary<string, string> environment, IReadOnlyList<string> arguments)
    {
        var start = new ProcessStartInfo
        {
            WorkingDirectory = folder,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardOutputEncoding = Encoding.UTF8,
            StandardErrorEncoding = Encoding.UTF8,
        };
        foreach (var word in before.Concat(Executable()).Concat(arguments)) start.ArgumentList.Add(word);
        start.FileName = start.ArgumentList[0];
        start.ArgumentList.RemoveAt(0);
        start.Environment["LC_ALL"] = HostileCulture.Chosen.Name.Replace('-', '_') + ".UTF-8";
        start.Environment["TZ"] = HostileCulture.Zone;
        foreach (var (name, value) in environment) start.Environment[name] = value;
        return new RunningProgram("setupaudit " + string.Join(' ', arguments), start);
    }

    /// <summary>The words that start it.</summary>
    public static string[] Executable()
    {
        if (Environment.GetEnvironmentVariable("SETUPAUDIT_PROGRAM") is { Length: > 0 } chosen) return [chosen];
        // artifacts/bin/<this project>/<configuration>/ and the program beside it, built the same way.
        var here = Path.TrimEndingDirectorySeparator(AppContext.BaseDirectory);
        var program = Path.GetFullPath(Path.Combine(here, "..", "..", "SetupAudit", Path.GetFileName(here), "setupaudit.dll"));
        if (!File.Exists(program)) throw new FileNotFoundException("build the solution first", program);
        var host = Environment.GetEnvironmentVariable("DOTNET_HOST_PATH") is { Length: > 0 } path ? path : "dotnet";
        return [host, "exec", program];
    }
}
