using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace SetupAudit.Alerts.Support;

/// <summary>
/// Certificates signed in the house: a root that no computer trusts by itself, and of it one for localhost, one for
/// another name and one that is out of date.
/// </summary>
internal static class HouseCertificates
{
    private static readonly DateTimeOffset From = new(2020, 1, 1, 0, 0, 0, TimeSpan.Zero);
    private static readonly DateTimeOffset Until = new(2099, 1, 1, 0, 0, 0, TimeSpan.Zero);
    private static readonly X509Certificate2 Root = MakeRoot();

    public static X509Certificate2 ForLocalhost { get; } = Make("localhost", Until);

    public static X509Certificate2 ForElsewhere { get; } = Make("elsewhere.example", Until);

    public static X509Certificate2 OutOfDate { get; } = Make("localhost", From.AddYears(1));

    /// <summary>For localhost, but of one who calls and not of one who is called.</summary>
    public static X509Certificate2 ForClients { get; } = Make("localhost", Until, clientsOnly: true);

    /// <summary>The root as a configuration names it.</summary>
    public static string RootPem => Root.ExportCertificatePem();

    private static X509Certificate2 MakeRoot()
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest("CN=Harrow Lane house root", key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, false, 0, true));
        return request.CreateSelfSigned(From, Until);
    }

    private static X509Certificate2 Make(string name, DateTimeOffset until, bool clientsOnly = false)
    {
        using var key = RSA.Create(2048);
        var request = new CertificateRequest($"CN={name}", key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        var names = new SubjectAlternativeNameBuilder();
        names.AddDnsName(name);
        if (name == "localhost") names.AddIpAddress(IPAddress.Loopback);
        request.CertificateExtensions.Add(names.Build());
        if (clientsOnly)
            request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new Oid("1.3.6.1.5.5.7.3.2")], critical: true));
        using var rootKey = Root.GetECDsaPrivateKey() ?? throw new InvalidOperationException("the root has its key");
        using var signed = request.Create(
            Root.SubjectName, X509SignatureGenerator.CreateForECDsa(rootKey), From, until, [(byte)name.Length, 1]);
        using var whole = signed.CopyWithPrivateKey(key);
        // A key that was only made in memory is refused by some handshakes; through a container it is kept.
        return X509CertificateLoader.LoadPkcs12(whole.Export(X509ContentType.Pfx), null);
    }
}
