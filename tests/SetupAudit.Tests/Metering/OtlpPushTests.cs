using System.Net;
using System.Net.Sockets;
using System.Text;
using SetupAudit.Support;

namespace SetupAudit.Metering;

public sealed class OtlpPushTests
{
    [Fact]
    public async Task A_collector_gets_the_figures_by_the_usual_path_as_protobuf()
    {
        using var collector = new HttpListener();
        var url = $"http://127.0.0.1:{FreePort()}/";
        collector.Prefixes.Add(url);
        collector.Start();
        var machine = Some.Machine();
        var coming = collector.GetContextAsync();

        using (OtlpPush.To(url, "1.0")) Meters.Count(MetricBook.Arrivals, 3, machine);

        var request = (await coming.WaitAsync(TestContext.Current.CancellationToken)).Request;
        Assert.Equal("/v1/metrics", request.Url?.AbsolutePath);
        Assert.Equal("application/x-protobuf", request.ContentType);
        using var body = new MemoryStream();
        await request.InputStream.CopyToAsync(body, TestContext.Current.CancellationToken);
        var text = Encoding.Latin1.GetString(body.ToArray());
        Assert.Contains("setupaudit.arrivals", text);
        Assert.Contains(machine, text);
        Assert.Contains("service.name", text);
        Assert.DoesNotContain(Environment.MachineName, text);
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
