using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace SetupAudit.Alerts;

/// <summary>When a message that could not be sent is tried again.</summary>
internal static class RetryTimes
{
    private const int Factor = 3;

    // A receiver that is up again is met by all that waited: a tenth of the wait spreads them.
    private const double JitterShare = 0.1;

    private static readonly TimeSpan First = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan Longest = TimeSpan.FromMinutes(30);

    // A receiver may ask for peace, not for ever.
    private static readonly TimeSpan AskedMost = TimeSpan.FromHours(24);

    /// <summary>
    /// 5, 15 and 45 s after the first tries, then slower up to half an hour; up to a tenth longer, by the message and
    /// receiver; never sooner than the receiver asked for.
    /// </summary>
    public static TimeSpan After(int tries, string message, string receiver, TimeSpan? asked)
    {
        var wait = First;
        for (var more = 1; more < tries && wait < Longest; more++) wait *= Factor;
        if (wait > Longest) wait = Longest;
        wait += wait * (JitterShare * Share(message, receiver, tries));
        var least = asked > AskedMost ? AskedMost : asked;
        return least > wait ? least.Value : wait;
    }

    // From 0 to 1, the same for the same try: so a restart does not change it, and no test needs luck.
    private static double Share(string message, string receiver, int tries)
    {
        var named = FormattableString.Invariant($"{message}|{receiver}|{tries}");
        var hash = SHA256.HashData(Encoding.UTF8.GetBytes(named));
        return BinaryPrimitives.ReadUInt32BigEndian(hash) / (double)uint.MaxValue;
    }
}
