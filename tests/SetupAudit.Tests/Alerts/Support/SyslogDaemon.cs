using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text.Json;
using SetupAudit.Support;

namespace SetupAudit.Alerts.Support;

/// <summary>
/// The system's own syslog daemon on a loopback port, by UDP and TCP: a reading of RFC 5424 by others than us. Skips the
/// test where it is not installed.
/// </summary>
internal sealed class SyslogDaemon : IDisposable
{
    private readonly TempShare _share = new();
    private readonly Process _process;

    public SyslogDaemon()
    {
        var program = File.Exists("/usr/sbin/rsyslogd") ? "/usr/sbin/rsyslogd" : Tool.At("rsyslogd");
        Port = FreePort();
        var parts = string.Join(" constant(value=\",\") ", new[]
        {
            "pri", "timereported\" dateFormat=\"rfc3339", "hostname", "app-name", "procid", "msgid", "structured-data", "msg",
        }.Select(name => $"property(outname=\"{name.Split('"')[0]}\" name=\"{name}\" format=\"jsonf\")"));
        var config = _share.Write("log.conf", $$"""
            global(workDirectory="{{_share.Folder}}" maxMessageSize="64k")
            module(load="imudp")
            module(load="imtcp")
            template(name="parts" type="list") { constant(value="{") {{parts}} constant(value="}\n") }
            ruleset(name="ours") { action(type="omfile" file="{{_share["out"]}}" template="parts" asyncWriting="off") }
            input(type="imudp" address="127.0.0.1" port="{{Port}}" ruleset="ours")
            input(type="imtcp" address="127.0.0.1" port="{{Port}}" ruleset="ours")
            """);
        _process = Process.Start(program, ["-n", "-f", config, "-i", _share["pid"]]);
    }

    public int Port { get; }

    public async Task ReadyAsync(CancellationToken token)
    {
        while (true)
        {
            using var probe = new TcpClient();
            try
            {
                await probe.ConnectAsync(IPAddress.Loopback, Port, token);
                return;
            }
            catch (SocketException)
            {
                if (_process.HasExited) Assert.Fail("the syslog daemon ended by itself");
                await Task.Delay(TimeSpan.FromMilliseconds(20), TimeProvider.System, token);
            }
        }
    }

    /// <summary>What it made of the messages, once there are so many.</summary>
    public async Task<IReadOnlyList<JsonElement>> ReadAsync(int count, CancellationToken token)
    {
        while (true)
        {
            var lines = File.Exists(_share["out"]) ? await File.ReadAllLinesAsync(_share["out"], token) : [];
            if (lines.Length >= count) return [.. lines.Select(line => JsonElement.Parse(line))];
            await Task.Delay(TimeSpan.FromMilliseconds(20), TimeProvider.System, token);
        }
    }

    public void Dispose()
    {
        _process.Kill();
        _process.WaitForExit();
        _process.Dispose();
        _share.Dispose();
    }

    private static int FreePort()
    {
        using var probe = new TcpListener(IPAddress.Loopback, 0);
        probe.Start();
        return int.Parse(probe.LocalEndpoint.ToString()?.Split(':')[^1] ?? "0", CultureInfo.InvariantCulture);
    }
}
