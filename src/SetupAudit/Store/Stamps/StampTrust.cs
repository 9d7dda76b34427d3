using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace SetupAudit.Store.Stamps;

/// <summary>The certificates by which an authority is trusted, and no other: not those of the computer.</summary>
public sealed class StampTrust : IDisposable
{
    // A certificate of the same name that did not sign it is no signer either.
    private const X509ChainStatusFlags Unvouched = X509ChainStatusFlags.UntrustedRoot
        | X509ChainStatusFlags.PartialChain | X509ChainStatusFlags.NotSignatureValid;

    private const long BytesMost = 1024 * 1024;

    private readonly X509Certificate2Collection _trusted = [];

    private StampTrust()
    {
    }

    /// <summary>Reads certificates in PEM; the reason says why there are none. Does not throw.</summary>
    public static StampTrust? Read(string path, out string reason)
    {
        var trust = new StampTrust();
        try
        {
            if (!File.Exists(path)) reason = $"{path} is not there";
            else if (new FileInfo(path).Length > BytesMost) reason = $"{path} is too long for certificates in PEM";
            else
            {
                trust._trusted.ImportFromPemFile(path);
                reason = trust._trusted.Count > 0 ? "" : $"{path} holds no certificate in PEM";
            }
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or CryptographicException)
        {
            reason = $"{path} cannot be read: {fault.Message.TrimEnd('.')}";
        }
        if (reason.Length == 0) return trust;
        trust.Dispose();
        return null;
    }

    public void Dispose()
    {
        foreach (var certificate in _trusted) certificate.Dispose();
    }

    /// <summary>
    /// Why a certificate does not lead to one that is trusted, as of a moment; null where it does. Whether it was
    /// revoked is not asked: that takes a call to its issuer, and the shop may have no way out.
    /// </summary>
    internal string? FaultOf(X509Certificate2 signer, X509Certificate2Collection sent, DateTimeOffset atUtc)
    {
        using var chain = new X509Chain();
        chain.ChainPolicy.TrustMode = X509ChainTrustMode.CustomRootTrust;
        chain.ChainPolicy.CustomTrustStore.AddRange(_trusted);
        chain.ChainPolicy.ExtraStore.AddRange(sent);
        chain.ChainPolicy.DisableCertificateDownloads = true;
        chain.ChainPolicy.RevocationMode = X509RevocationMode.NoCheck;
        chain.ChainPolicy.ApplicationPolicy.Add(new Oid(StampReading.TimeStamping));
        // The chain would be looked at by the hour of this computer's zone, which twice a year is two moments.
        chain.ChainPolicy.VerificationFlags = X509VerificationFlags.IgnoreNotTimeValid;
        var holds = chain.Build(signer);
        var status = chain.ChainStatus.Aggregate(
            X509ChainStatusFlags.NoError, (sum, one) => sum | one.Status);
        var isOfItsTime = chain.ChainElements.All(element => IsOf(element.Certificate, atUtc.UtcDateTime));
        foreach (var element in chain.ChainElements) element.Certificate.Dispose();
        return !holds ? Words(status)
            : isOfItsTime ? null
            : "a certificate that vouches for the authority was out of date at that moment";
    }

    private static bool IsOf(X509Certificate2 certificate, DateTime atUtc) =>
        certificate.NotBefore.ToUniversalTime() <= atUtc && atUtc <= certificate.NotAfter.ToUniversalTime();

    private static string Words(X509ChainStatusFlags status) => (status & Unvouched) != 0
        ? "none of the trusted certificates vouches for the authority's"
        : $"the authority's certificate is not good: {status}";
}
