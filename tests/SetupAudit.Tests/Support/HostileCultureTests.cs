using System.Globalization;

namespace SetupAudit.Support;

public sealed class HostileCultureTests
{
    [Fact]
    public void A_test_runs_in_the_chosen_culture() =>
        Assert.Equal(HostileCulture.Chosen.Name, CultureInfo.CurrentCulture.Name);

    [Fact]
    public void Local_time_is_half_an_hour_off()
    {
        // Windows does not read the zone from the environment.
        Assert.SkipWhen(OperatingSystem.IsWindows(), "the zone of Windows is not chosen by a test");
        Assert.Equal(TimeSpan.FromHours(-3.5), TimeZoneInfo.Local.GetUtcOffset(new DateTime(2026, 1, 15, 0, 0, 0, DateTimeKind.Utc)));
    }

    [Fact]
    public async Task What_a_test_awaits_runs_in_the_chosen_culture()
    {
        await Task.Yield();
        Assert.Equal(HostileCulture.Chosen.Name, CultureInfo.CurrentCulture.Name);
    }

    [Fact]
    public void A_thread_that_a_test_starts_runs_in_the_chosen_culture()
    {
        var seen = "";
        var thread = new Thread(() => seen = CultureInfo.CurrentCulture.Name);
        thread.Start();
        thread.Join();
        Assert.Equal(HostileCulture.Chosen.Name, seen);
    }
}
