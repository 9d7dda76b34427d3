using System.Diagnostics;
using Xunit.Sdk;

namespace SetupAudit.Support;

public sealed class RunningProgramTests
{
    [Fact]
    public void One_that_does_not_end_is_killed_and_fails_with_what_it_wrote()
    {
        using var running = Shell("echo on stdout; echo on stderr >&2; sleep 1000");
        running.WaitFor("on stdout");
        running.WaitFor("on stderr");
        var failure = Assert.ThrowsAny<XunitException>(() => running.End(TimeSpan.FromMilliseconds(1)));
        Assert.Contains("on stdout", failure.Message, StringComparison.Ordinal);
        Assert.Contains("on stderr", failure.Message, StringComparison.Ordinal);
        Assert.True(running.HasEnded);
    }

    [Fact]
    public void Both_streams_and_the_exit_status_come_back_whole()
    {
        using var running = Shell("for n in 1 2 3; do echo line $n; done; printf last >&2; exit 2");
        var ran = running.End(TimeSpan.FromMinutes(1));
        Assert.Equal(2, ran.ExitCode);
        Assert.Equal("line 1\nline 2\nline 3\n", ran.Output);
        Assert.Equal("last\n", ran.Errors);
    }

    [Fact]
    public void What_is_never_written_fails_once_the_program_has_ended()
    {
        using var running = Shell("echo something");
        Assert.ThrowsAny<XunitException>(() => running.WaitFor("something else"));
    }

    [Fact]
    public void Asked_to_stop_it_may_finish_its_work()
    {
        using var running = Shell("trap 'echo finished; exit 0' TERM; echo ready; while :; do sleep 0.01; done");
        running.WaitFor("ready");
        Assert.Contains("finished", running.Stop().Exits(0).Output, StringComparison.Ordinal);
    }

    private static RunningProgram Shell(string script)
    {
        var start = new ProcessStartInfo(Tool.At("sh"), ["-c", script])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        return new RunningProgram($"sh -c '{script}'", start);
    }
}
