using System.Security.Cryptography;
using System.Security.Cryptography.Pkcs;
using System.Security.Cryptography.X509Certificates;
using SetupAudit.Support;

namespace SetupAudit.Store.Stamps;

/// <summary>
/// A whole TimeStampResp (RFC 3161, 2.4.2) by the class library's CMS, at any moment and with a certificate that openssl
/// would refuse to sign with.
/// </summary>
internal static class StampByHand
{
    public static byte[] Over(byte[] note, DateTimeOffset? atUtc = null, bool critical = true, params string[] more)
    {
        using var rootKey = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var from = new DateTimeOffset(2020, 1, 1, 0, 0, 0, TimeSpan.Zero);
        using var root = new CertificateRequest("CN=root", rootKey, HashAlgorithmName.SHA256).CreateSelfSigned(from, from.AddYears(60));
        using var key = RSA.Create(2048);
        using var made = HouseAuthority.Certify(key, "CN=by hand", root, rootKey, from.AddYears(50), critical, more);
        using var signer = made.CopyWithPrivateKey(key);
        var info = new Rfc3161TimestampTokenInfo(new Oid(HouseAuthority.Policy), new Oid("2.16.840.1.101.3.4.2.1"),
            SHA256.HashData(note), new byte[] { 1 }, atUtc ?? DateTimeOffset.UtcNow);
        var cms = new SignedCms(new ContentInfo(new Oid("1.2.840.113549.1.9.16.1.4"), info.Encode()));
        var by = new CmsSigner(SubjectIdentifierType.IssuerAndSerialNumber, signer) { DigestAlgorithm = new Oid("2.16.840.1.101.3.4.2.1") };
        var hash = SHA256.HashData(signer.RawData);
        // SigningCertificateV2 with one ESSCertIDv2 that holds the hash alone (RFC 5035, 3).
        byte[] named = [0x30, 0x26, 0x30, 0x24, 0x30, 0x22, 0x04, 0x20, .. hash];
        by.SignedAttributes.Add(new AsnEncodedData(new Oid("1.2.840.113549.1.9.16.2.47"), named));
        cms.ComputeSignature(by);
        var token = cms.Encode();
        var length = token.Length + 5;
        return [0x30, 0x82, (byte)(length >> 8), (byte)(length & 0xFF), 0x30, 0x03, 0x02, 0x01, 0x00, .. token];
    }
}
