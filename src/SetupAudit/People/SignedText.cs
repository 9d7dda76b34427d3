using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using SetupAudit.Setups;
using SetupAudit.Store;
using SetupAudit.Store.Retention;

namespace SetupAudit.People;

/// <summary>
/// What exactly is signed: a text, a line a fact, that names the record, the setup with the digest of its rows, and all
/// that is said of it. A signature moved to another record, setup or review does not fit there (21 CFR 11.70).
/// </summary>
public static class SignedText
{
    private const string MomentForm = "yyyy-MM-dd'T'HH:mm:ss.fffffff'Z'";

    public static string Of(Review review) => Lines(
        "setupaudit review 1",
        ("origin", review.Origin), ("review", review.Id), ("machine", review.Machine), ("setup", review.Setup),
        ("opened", Moment(review.OpenedUtc)), ("pallet", review.Pallet), ("rows", review.RowsSha256),
        ("evidence", review.Basis.Mark), ("findings", string.Join(' ', review.Basis.Grave)),
        ("meaning", $"reviewed and {PeopleWord(review.Verdict)}"), ("reason", review.Reason), ("cause", review.Cause),
        ("person", review.Person), ("name", review.By), ("role", review.Role), ("at", Moment(review.AtUtc)),
        ("local", review.AtLocal));

    public static string Of(ActKind kind, StoredPerson person) => Lines(
        "setupaudit person 1",
        ("act", person.Id), ("does", kind.ToString().ToLowerInvariant()), ("person", person.Person),
        ("name", person.Name), ("role", person.Role), ("state", person.State),
        ("key", Convert.ToBase64String(person.CheckKey)), ("why", person.Why), ("by", person.ByPerson),
        ("at", Moment(person.AtUtc)));

    /// <param name="origin">The record that the evidence is dropped from.</param>
    public static string Of(PruneOrder order, string? origin, StoredPerson person) => Lines(
        "setupaudit pruning 1",
        ("origin", origin), ("pruning", order.Id), ("before", Moment(order.BeforeUtc)),
        ("files", order.Sha256s.Count.ToString(CultureInfo.InvariantCulture)),
        ("bytes", order.SizeBytes.ToString(CultureInfo.InvariantCulture)),
        ("evidence", Digest(order.Sha256s)),
        ("lines", string.Join(' ', order.Lines.Select(one =>
            $"{one.Line.Machine}@{Moment(one.Line.FromUtc)}={one.Line.StateSha256}"))),
        ("meaning", "decided that this evidence is dropped"), ("reason", order.Reason), ("person", person.Person),
        ("name", person.Name), ("role", person.Role), ("at", Moment(order.AtUtc)));

    /// <summary>SHA-256 of a text that was signed, in hexadecimal.</summary>
    public static string Digest(string text) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    // Of the values in their order, with a line feed between them.
    private static string Digest(Sha256Set sha256s)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var isFirst = true;
        foreach (var sha256 in sha256s)
        {
            if (!isFirst) hash.AppendData("\n"u8);
            isFirst = false;
            hash.AppendData(Encoding.ASCII.GetBytes(sha256));
        }
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    private static string PeopleWord(ReviewVerdict verdict) => verdict.ToString().ToLowerInvariant();

    private static string Moment(DateTimeOffset moment) =>
        moment.UtcDateTime.ToString(MomentForm, CultureInfo.InvariantCulture);

    // Values are written as JSON texts: no value can make a line of its own.
    private static string Lines(string head, params (string Name, string? Value)[] facts) =>
        $"{head}\n{string.Concat(facts.Select(fact => $"{fact.Name} {JsonSerializer.Serialize(fact.Value)}\n"))}";
}
