namespace SetupAudit.Shares;

/// <summary>
/// What was taken of a print-out under some name, looked for under another after a rotation.
/// </summary>
/// <param name="IsLeft">The file that has this name now no longer holds it, or there is none.</param>
/// <param name="IsFormer">It was under this name before what is there now: moving it moves nothing else.</param>
internal sealed record Remains(KnownFile Known, Growth Growth, bool IsLeft, bool IsFormer)
{
    // Beginnings as long as this do not agree by chance, however much two print-outs have in common.
    private const int LongEnoughBytes = 256;

    /// <summary>
    /// Whether a file of this name may be what was taken, should its first bytes agree. Two print-outs may well be
    /// equal to the last byte and still be two, so equal bytes alone prove nothing.
    /// </summary>
    public bool MayBe(string name, FileStamp stamp)
    {
        if (Growth.OffsetBytes == 0 || Growth.OffsetBytes > stamp.SizeBytes) return false;
        if (string.Equals(name, Known.Name, StringComparison.Ordinal)) return false;
        if (Known.Taken == stamp) return true;
        return IsLeft && (IsRotatedName(name, Known.Name)
            || (Growth.OffsetBytes >= LongEnoughBytes && stamp.SizeBytes > Growth.OffsetBytes));
    }

    /// <summary>x.log is rotated to x.log.1, x.log-20260302, x.1.log or x_old.log, and x.log.1 to x.log.2.</summary>
    private static bool IsRotatedName(string name, string was)
    {
        var stem = was[..(was.Length - Path.GetExtension(was).Length)];
        return Follows(name, was) || Follows(name, stem);
    }

    private static bool Follows(string name, string beginning) =>
        name.Length > beginning.Length
        && name.StartsWith(beginning, StringComparison.OrdinalIgnoreCase)
        && name[beginning.Length] is '.' or '-' or '_' or '~';
}
