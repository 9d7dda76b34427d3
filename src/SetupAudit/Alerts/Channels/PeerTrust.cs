using System.Net.Security;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace SetupAudit.Alerts.Channels;

/// <summary>
/// Whether the certificate that a receiver shows is one to trust: by the computer's own list, or signed by one of the
/// certificates that the configuration names. There is no way to trust without.
/// </summary>
internal sealed class PeerTrust : IDisposable
{
    // RFC 5280 4.2.1.12: a certificate of a person or a client vouches for no server.
    private const string ServerAuthentication = "1.3.6.1.5.5.7.3.1";

    private readonly X509Certificate2Collection _own = [];

    private bool _mayPass;

    private PeerTrust()
    {
    }

    /// <summary>Why the last certificate was refused, in words; null where none was.</summary>
    public string? Refusal { get; private set; }

    public static PeerTrust With(string? certificateFile)
    {
        var trust = new PeerTrust();
        if (certificateFile is null) return trust;
        try
        {
            trust._own.ImportFromPemFile(certificateFile);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or CryptographicException)
        {
            throw new SendFaultException(SendOutcome.Temporary,
                $"CertificateFile cannot be read: {Trying.Reason(fault.Message)}", fault);
        }
        return trust._own.Count > 0 ? trust : throw new SendFaultException(
            SendOutcome.Temporary, $"CertificateFile: {certificateFile} holds no certificate in PEM.");
    }

    /// <summary>The callback of a handshake.</summary>
    public bool Accepts(object sender, X509Certificate? certificate, X509Chain? chain, SslPolicyErrors errors)
    {
        if (errors == SslPolicyErrors.None) return true;
        if (certificate is null || errors.HasFlag(SslPolicyErrors.RemoteCertificateNotAvailable))
            return Refuse("the receiver showed no certificate");
        if (errors.HasFlag(SslPolicyErrors.RemoteCertificateNameMismatch))
            return Refuse("the receiver's certificate is made out to another name than Host or Url gives");
        var status = _own.Count > 0 ? OwnFaults(certificate, chain) : Faults(chain);
        _mayPass = status == X509ChainStatusFlags.NotTimeValid;
        return status == X509ChainStatusFlags.NoError || Refuse(Words(status));
    }

    /// <summary>
    /// The outcome of a handshake that failed: final where it was we who refused; one that broke off may come about
    /// later, and so may one that only the date stood against: certificates are renewed, and clocks put right.
    /// </summary>
    public SendResult Failed(Exception fault) => Refusal is { } why
        ? new(_mayPass ? SendOutcome.Temporary : SendOutcome.Final, $"Not sent, for the way is not safe: {why}.")
        : new(SendOutcome.Temporary, $"No safe connection came about: {Trying.Reason(fault.Message)}");

    public void Dispose()
    {
        foreach (var certificate in _own) certificate.Dispose();
    }

    private X509ChainStatusFlags OwnFaults(X509Certificate shown, X509Chain? sent)
    {
        using var chain = new X509Chain();
        chain.ChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
        chain.ChainPolicy.CustomTrustStore.AddRange(_own);
        chain.ChainPolicy.RevocationMode = X509RevocationMode.NoCheck;
        chain.ChainPolicy.ApplicationPolicy.Add(new Oid(ServerAuthentication));
        foreach (var element in sent?.ChainElements ?? Enumerable.Empty<X509ChainElement>())
            chain.ChainPolicy.ExtraStore.Add(element.Certificate);
        using var certificate = X509CertificateLoader.LoadCertificate(shown.GetRawCertData());
        return chain.Build(certificate) ? X509ChainStatusFlags.NoError : Faults(chain);
    }

    private static X509ChainStatusFlags Faults(X509Chain? chain)
    {
        var all = (chain?.ChainStatus ?? []).Aggregate(
            X509ChainStatusFlags.NoError, (sum, status) => sum | status.Status);
        return all == X509ChainStatusFlags.NoError ? X509ChainStatusFlags.PartialChain : all;
    }

    private bool Refuse(string why)
    {
        Refusal = why;
        return false;
    }

    private static string Words(X509ChainStatusFlags status)
    {
        if (status.HasFlag(X509ChainStatusFlags.NotTimeValid))
            return "the receiver's certificate is out of date, or this computer's clock is wrong";
        return (status & (X509ChainStatusFlags.UntrustedRoot | X509ChainStatusFlags.PartialChain)) != 0
            ? "nobody whom this computer trusts vouches for the receiver's certificate "
                + "(for one that was signed in the house, give CertificateFile)"
            : $"the receiver's certificate is not good: {status}";
    }
}
