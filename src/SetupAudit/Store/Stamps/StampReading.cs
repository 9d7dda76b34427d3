using System.Formats.Asn1;
using System.Security.Cryptography;
using System.Security.Cryptography.Pkcs;
using System.Security.Cryptography.X509Certificates;

namespace SetupAudit.Store.Stamps;

/// <summary>
/// Reads what an authority answered (RFC 3161, 2.4.2 TimeStampResp) and checks it against the bytes it is over. Throws
/// with what does not hold, whatever the bytes are.
/// </summary>
internal static class StampReading
{
    /// <summary>The only purpose that a stamping certificate may have (RFC 3161, 2.3).</summary>
    public const string TimeStamping = "1.3.6.1.5.5.7.3.8";

    /// <summary>A token with the certificates that belong to it has some thousand bytes.</summary>
    public const int BytesMost = 64 * 1024;

    private const string Sha256 = "2.16.840.1.101.3.4.2.1";

    // RFC 3161, 2.4.2: PKIFailureInfo, by its bits.
    private static readonly (int Bit, string Words)[] Reasons =
    [
        (0, "it does not take SHA-256"), (2, "it does not allow this"), (5, "it could not read the request"),
        (14, "its clock is not at hand"), (15, "it does not stamp under that policy"),
        (16, "it does not take such a request"), (17, "it lacks what was asked for"), (25, "it failed"),
    ];

    /// <summary>The stamp over some bytes; without trust nobody vouches for who made it.</summary>
    public static Stamp Check(ReadOnlySpan<byte> response, ReadOnlySpan<byte> over, StampTrust? trust) =>
        Check(Token(response), over, trust);

    /// <summary>The same for an answer to a request just made, whose number and policy it must repeat.</summary>
    public static Stamp Check(ReadOnlySpan<byte> response, ReadOnlySpan<byte> over, StampTrust trust,
        Rfc3161TimestampRequest request)
    {
        var token = Token(response);
        // RFC 3161, 2.2 and 2.4.2: the answer repeats the request's nonce, so it is none of an earlier day.
        if (token.TokenInfo.GetNonce() is not { } nonce || request.GetNonce() is not { } asked
            || !nonce.Span.SequenceEqual(asked.Span))
            throw new StampFaultException("its stamp is not the one that was just asked for: another nonce");
        // RFC 3161, 2.4.1: where a policy was asked for, the stamp is under that one.
        if (request.RequestedPolicyId is { } policy && token.TokenInfo.PolicyId.Value != policy.Value)
            throw new StampFaultException($"its stamp is under the policy {token.TokenInfo.PolicyId.Value}, not the "
                + $"{policy.Value} that was asked for");
        return Check(token, over, trust);
    }

    private static Stamp Check(Rfc3161TimestampToken token, ReadOnlySpan<byte> over, StampTrust? trust)
    {
        var info = token.TokenInfo;
        // RFC 3161, 2.4.2: messageImprint is that of the request.
        if (info.HashAlgorithmId.Value != Sha256)
            throw new StampFaultException("the stamp is over a hash other than SHA-256");
        if (!info.GetMessageHash().Span.SequenceEqual(SHA256.HashData(over)))
            throw new StampFaultException("the stamp is over something else");
        // RFC 3161, 2.4.2: one signature, over all of TSTInfo, by the certificate that the token names by its hash.
        if (!token.VerifySignatureForData(over, out var maker))
            throw new StampFaultException("the signature of the stamp does not hold");
        RequirePurpose(maker);
        return trust?.FaultOf(maker, token.AsSignedCms().Certificates, info.Timestamp) is { } untrusted
            ? throw new StampFaultException(untrusted)
            : new Stamp(info.Timestamp, maker.Subject, trust is not null);
    }

    // RFC 3161, 2.3: one extended key usage, critical, and nothing in it but time stamping.
    private static void RequirePurpose(X509Certificate2 maker)
    {
        var usages = maker.Extensions.OfType<X509EnhancedKeyUsageExtension>().ToList();
        if (usages is not [{ Critical: true } only] || only.EnhancedKeyUsages.Count != 1
            || only.EnhancedKeyUsages[0].Value != TimeStamping)
            throw new StampFaultException("the certificate that made the stamp is not one for time stamps alone");
    }

    // The class library takes none of these for a token, without a word why.
    private static StampFaultException Refused(ReadOnlyMemory<byte> token)
    {
        var signed = new SignedCms();
        signed.Decode(token.Span);
        // RFC 3161, 2.4.1: with certReq the certificate that made it comes along.
        if (signed.SignerInfos.Count != 1 || signed.SignerInfos[0].Certificate is not { } maker)
            return new("the certificate that made the stamp is not in it");
        RequirePurpose(maker);
        if (Rfc3161TimestampTokenInfo.TryDecode(signed.ContentInfo.Content, out var info, out _)
            && (info.Timestamp < maker.NotBefore || info.Timestamp > maker.NotAfter))
            return new("the certificate that made the stamp was out of date at that moment");
        try
        {
            signed.SignerInfos[0].CheckSignature(verifySignatureOnly: true);
            return new("it is no answer of a time-stamp authority");
        }
        catch (CryptographicException fault)
        {
            return new("the signature of the stamp does not hold", fault);
        }
    }

    private static Rfc3161TimestampToken Token(ReadOnlySpan<byte> response)
    {
        if (response.Length > BytesMost)
            throw new StampFaultException($"it has more than {BytesMost} bytes, which no time stamp has");
        try
        {
            var whole = new AsnReader(response.ToArray(), AsnEncodingRules.DER);
            var answer = whole.ReadSequence();
            whole.ThrowIfNotEmpty();
            RequireGranted(answer.ReadSequence());
            var bytes = answer.HasData ? answer.ReadEncodedValue() : default;
            answer.ThrowIfNotEmpty();
            if (bytes.IsEmpty) throw new AsnContentException();
            return Rfc3161TimestampToken.TryDecode(bytes, out var token, out var read) && read == bytes.Length
                ? token : throw Refused(bytes);
        }
        catch (Exception fault) when (fault is AsnContentException or CryptographicException)
        {
            throw new StampFaultException("it is no answer of a time-stamp authority", fault);
        }
    }

    // RFC 3161, 2.4.2: PKIStatusInfo; only 0 (granted) and 1 (grantedWithMods) bring a token.
    private static void RequireGranted(AsnReader status)
    {
        if (!status.TryReadInt32(out var code)) throw new AsnContentException();
        if (code is 0 or 1) return;
        var reason = "it gives no reason";
        while (status.HasData)
        {
            var tag = status.PeekTag();
            if (!tag.HasSameClassAndValue(new Asn1Tag(UniversalTagNumber.BitString)))
            {
                status.ReadEncodedValue();
                continue;
            }
            var bits = status.ReadBitString(out _);
            foreach (var (bit, words) in Reasons)
                if (bit / 8 < bits.Length && (bits[bit / 8] & (0x80 >> (bit % 8))) != 0) reason = words;
        }
        throw new StampFaultException($"the authority gave no stamp: {reason} (status {code})");
    }
}
