using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text;

namespace SetupAudit.Support;

/// <summary>
/// A made-up time-stamp authority on a loopback port, whose stamps openssl makes: nothing of it is of the program.
/// </summary>
public sealed class HouseAuthority : IAsyncDisposable
{
    public const string Policy = "1.2.3.4.1";
    public const string OtherPolicy = "1.2.3.4.5";

    private readonly TempShare _files = new();
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource _stop = new();
    private readonly Task _serving;

    /// <param name="signedUntil">When the certificate that signs runs out.</param>
    /// <param name="rootUntil">When that of the root does.</param>
    public HouseAuthority(DateTimeOffset? signedUntil = null, DateTimeOffset? rootUntil = null)
    {
        OpenSsl = Tool.At("openssl");
        var from = new DateTimeOffset(2020, 1, 1, 0, 0, 0, TimeSpan.Zero);
        using var rootKey = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var root = new CertificateRequest("CN=Harrow Lane root (made up)", rootKey, HashAlgorithmName.SHA256);
        root.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, false, 0, true));
        using var rooted = root.CreateSelfSigned(from, rootUntil ?? from.AddYears(60));
        using var key = RSA.Create(2048);
        using var signer = Certify(key, "CN=Harrow Lane time (made up), C=GB", rooted, rootKey, signedUntil ?? from.AddYears(50));
        _files.Write("root.pem", rooted.ExportCertificatePem());
        _files.Write("signer.pem", signer.ExportCertificatePem());
        _files.Write("signer.key", key.ExportPkcs8PrivateKeyPem());
        _files.Write("serial", "01");
        _files.Write("authority.cnf", $"""
            [ house ]
            serial = {_files["serial"]}
            signer_cert = {_files["signer.pem"]}
            certs = {_files["root.pem"]}
            signer_key = {_files["signer.key"]}
            signer_digest = sha256
            default_policy = {Policy}
            other_policies = {OtherPolicy}
            digests = sha256
            accuracy = secs:1
            ordering = no
            tsa_name = no
            ess_cert_id_chain = no
            ess_cert_id_alg = sha256
            """);
        _listener.Start();
        _serving = ServeAsync();
    }

    /// <summary>What it answers instead of a stamp, head and all; null to say nothing.</summary>
    public Func<byte[], byte[]?>? Instead { get; set; }

    /// <summary>How often it was asked.</summary>
    public int Calls { get; private set; }

    public byte[] LastQuery { get; private set; } = [];

    public string OpenSsl { get; }

    /// <summary>What trusts it, in PEM.</summary>
    public string RootFile => _files["root.pem"];

    public string Url => string.Create(CultureInfo.InvariantCulture,
        $"http://127.0.0.1:{((IPEndPoint)_listener.LocalEndpoint).Port}/stamp");

    /// <summary>The key Store.TimeStamps as a configuration has it.</summary>
    public string Key(string more = "") =>
        $"\"TimeStamps\": {{ \"Url\": \"{Url}\", \"CertificateFile\": \"{RootFile.Replace('\\', '/')}\"{more} }}";

    public static byte[] Http(byte[] body, string type = "application/timestamp-reply", int code = 200) =>
        [.. Encoding.ASCII.GetBytes($"HTTP/1.1 {code} Said\r\nContent-Type: {type}\r\nContent-Length: {body.Length}\r\n\r\n"), .. body];

    /// <summary>The answer that openssl gives to a query.</summary>
    public byte[] Reply(byte[] query)
    {
        var (asked, said) = (_files.Write("query.tsq", query), _files["reply.tsr"]);
        File.Delete(said);
        var told = Run("ts", "-config", _files["authority.cnf"], "-section", "house", "-reply", "-queryfile", asked, "-out", said);
        return File.Exists(said) ? File.ReadAllBytes(said) : throw new InvalidOperationException(told);
    }

    /// <summary>openssl's own answer to a query over some bytes, of no request of the program.</summary>
    public byte[] StampOver(byte[] bytes)
    {
        var (data, query) = (_files.Write("data", bytes), _files["own.tsq"]);
        Run("ts", "-query", "-data", data, "-sha256", "-cert", "-out", query);
        return Reply(File.ReadAllBytes(query));
    }

    /// <summary>What openssl says of an answer over a file, as a person without the program would ask.</summary>
    public string Verified(string answer, string note) =>
        Run("ts", "-verify", "-data", note, "-in", answer, "-CAfile", RootFile);

    /// <summary>A certificate of a root's; for stamps alone where nothing else is said.</summary>
    public static X509Certificate2 Certify(RSA key, string name, X509Certificate2 root, ECDsa rootKey, DateTimeOffset until,
        bool critical = true, params string[] more)
    {
        var request = new CertificateRequest(name, key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(false, false, 0, true));
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension(
            [new Oid("1.3.6.1.5.5.7.3.8"), .. more.Select(one => new Oid(one))], critical));
        return request.Create(root.SubjectName, X509SignatureGenerator.CreateForECDsa(rootKey), root.NotBefore, until, [7, 1]);
    }

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        _listener.Dispose();
        await _serving;
        _stop.Dispose();
        _files.Dispose();
    }

    private string Run(params string[] arguments)
    {
        using var run = Process.Start(new ProcessStartInfo(OpenSsl, arguments)
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        }) ?? throw new InvalidOperationException("openssl did not start");
        var errors = run.StandardError.ReadToEndAsync(_stop.Token);
        var said = run.StandardOutput.ReadToEnd();
        run.WaitForExit();
        return said + errors.GetAwaiter().GetResult();
    }

    private async Task ServeAsync()
    {
        while (!_stop.IsCancellationRequested)
        {
            try
            {
                using var client = await _listener.AcceptTcpClientAsync(_stop.Token);
                await using var stream = client.GetStream();
                var query = await ReadAsync(stream);
                (Calls, LastQuery) = (Calls + 1, query);
                if ((Instead is { } instead ? instead(query) : Http(Reply(query))) is { } answer)
                    await stream.WriteAsync(answer, _stop.Token);
                else await Task.Delay(Timeout.InfiniteTimeSpan, TimeProvider.System, _stop.Token);
            }
            catch (Exception fault) when (fault is OperationCanceledException or IOException or SocketException
                or ObjectDisposedException)
            {
                // The other side left, or the test is over.
            }
        }
    }

    private async Task<byte[]> ReadAsync(NetworkStream stream)
    {
        var head = new StringBuilder();
        var one = new byte[1];
        while (!head.ToString().EndsWith("\r\n\r\n", StringComparison.Ordinal))
        {
            await stream.ReadExactlyAsync(one, _stop.Token);
            head.Append((char)one[0]);
        }
        var length = head.ToString().Split("\r\n").Single(line => line.StartsWith("Content-Length: ", StringComparison.OrdinalIgnoreCase));
        var body = new byte[int.Parse(length[16..], CultureInfo.InvariantCulture)];
        await stream.ReadExactlyAsync(body, _stop.Token);
        return body;
    }
}
