using System.Collections.Concurrent;
using System.Net;
using System.Text;

namespace SetupAudit.Alerts;

/// <summary>
/// An address that is called with alerts and answers as it is told: well, with a fault, late, or not at all.
/// </summary>
internal sealed class FickleReceiver : IDisposable
{
    private readonly HttpListener _listener = new();
    private readonly ConcurrentQueue<(string Id, string Body)> _calls = new();
    private readonly Task _loop;

    public FickleReceiver()
    {
        // A port that was free a moment ago may be taken: then another is tried.
        for (var port = 20_000 + Environment.ProcessId % 20_000; ; port++)
        {
            _listener.Prefixes.Clear();
            _listener.Prefixes.Add($"http://127.0.0.1:{port}/");
            Url = $"http://127.0.0.1:{port}/";
            try
            {
                _listener.Start();
                break;
            }
            catch (HttpListenerException) when (port < 60_000)
            {
            }
        }
        _loop = RunAsync();
    }

    public string Url { get; }

    /// <summary>What it does with a call that it has read; 0 for no answer at all.</summary>
    public Func<int> Answers { get; set; } = () => 204;

    /// <summary>Set when a call was read, before it is answered.</summary>
    public SemaphoreSlim Read { get; } = new(0);

    /// <summary>Set when a call was answered.</summary>
    public SemaphoreSlim Answered { get; } = new(0);

    /// <summary>Every call that was read whole.</summary>
    public IReadOnlyList<(string Id, string Body)> Calls => [.. _calls];

    public void Dispose()
    {
        _listener.Close();
        _loop.Wait(TimeSpan.FromSeconds(5), CancellationToken.None);
    }

    private async Task RunAsync()
    {
        while (_listener.IsListening)
        {
            try
            {
                Take(await _listener.GetContextAsync());
            }
            catch (Exception fault) when (fault is HttpListenerException or ObjectDisposedException or IOException)
            {
                // The caller was killed in the middle of its call.
            }
        }
    }

    private void Take(HttpListenerContext call)
    {
        using (var body = new StreamReader(call.Request.InputStream, Encoding.UTF8))
            _calls.Enqueue((call.Request.Headers["webhook-id"] ?? "", body.ReadToEnd()));
        Read.Release();
        var status = Answers();
        if (status == 0) return;
        call.Response.StatusCode = status;
        call.Response.Close();
        Answered.Release();
    }
}
