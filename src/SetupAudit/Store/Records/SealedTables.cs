namespace SetupAudit.Store.Records;

/// <summary>
/// Every lasting table but those of the record itself. A digest is over the columns in the order given here; a column
/// that a later migration adds to a table needs a new entry for the rows from then on.
/// </summary>
internal static class SealedTables
{
    private const string NewestMigrationSql = "SELECT MAX(number) FROM migration";

    private const string MigrationSql = """
        SELECT number, name, sha256, applied_utc FROM migration
        WHERE number > @After AND number <= @UpTo ORDER BY number
        """;

    private const string NewestStartSql = "SELECT MAX(seq) FROM start";

    private const string StartSql = """
        SELECT seq, at_utc, command, program_version, configuration_sha256 FROM start
        WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestBlobSql = "SELECT MAX(rowid) FROM blob";

    private const string BlobSql = """
        SELECT sha256, size_bytes, segment, position, stored_bytes FROM blob
        WHERE rowid > @After AND rowid <= @UpTo ORDER BY rowid
        """;

    private const string NewestArrivalSql = "SELECT MAX(seq) FROM arrival";

    private const string ArrivalSql = """
        SELECT seq, id, machine, source, file, sha256, blob, size_bytes, modified_utc, moment_utc, previous_utc,
            received_utc, offset_bytes, first_line, refused
        FROM arrival WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestHorizonSql = "SELECT MAX(seq) FROM horizon";

    private const string HorizonSql = """
        SELECT seq, machine, at_utc, recorded_utc FROM horizon WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestGapSql = "SELECT MAX(seq) FROM source_gap";

    private const string GapSql = """
        SELECT seq, machine, source, read_until_utc, over, recorded_utc FROM source_gap
        WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestPersonSql = "SELECT MAX(seq) FROM person";

    private const string PersonSql = """
        SELECT seq, id, at_utc, person, name, folded, role, locked, salt, passes, memory_kib, check_key, why, by_name,
            by_person, account
        FROM person WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestSignInSql = "SELECT MAX(seq) FROM sign_in";

    private const string SignInSql = """
        SELECT seq, id, at_utc, person, outcome, purpose, account FROM sign_in
        WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestReviewSql = "SELECT MAX(seq) FROM review";

    private const string ReviewSql = """
        SELECT seq, id, at_utc, machine, setup, opened_utc, body FROM review
        WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestBatchSql = "SELECT MAX(seq) FROM batch";

    private const string BatchSql = """
        SELECT seq, recorded_utc FROM batch WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestDerivedSql = "SELECT MAX(seq) FROM derived";

    private const string DerivedSql = """
        SELECT CASE kind WHEN 'setup' THEN id ELSE setup END, seq, machine, kind, id, scope_utc, at_utc, setup, body,
            withdrawn, batch
        FROM derived
        WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestAlertSql = "SELECT MAX(seq) FROM alert";

    private const string AlertSql = """
        SELECT seq, at_utc, machine, finding, setup, rule, severity, held_utc, step, because, why_not
        FROM alert WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestMessageSql = "SELECT MAX(seq) FROM message";

    private const string MessageSql = """
        SELECT seq, id, at_utc, kind, thread, machine, setup, severity, body FROM message
        WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestToldSql = "SELECT MAX(seq) FROM told";

    private const string ToldSql = """
        SELECT seq, at_utc, alert, message, listed, why_not FROM told
        WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestRemindedSql = "SELECT MAX(seq) FROM reminded";

    private const string RemindedSql = """
        SELECT seq, at_utc, message, machine, finding, listed FROM reminded
        WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestSendingSql = "SELECT MAX(seq) FROM sending";

    private const string SendingSql = """
        SELECT seq, at_utc, message, channel, receiver, try, outcome, reason, next_utc, configuration FROM sending
        WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestQuietSql = "SELECT MAX(seq) FROM quiet";

    private const string QuietSql = """
        SELECT seq, id, at_utc, machine, until_utc, by_name, reason, cancels FROM quiet
        WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestPruningSql = "SELECT MAX(seq) FROM pruning";

    private const string PruningSql = """
        SELECT seq, id, at_utc, before_utc, files, size_bytes, reason, account, signatures FROM pruning
        WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestLineSql = "SELECT MAX(seq) FROM pruned_line";

    private const string LineSql = """
        SELECT seq, pruning, machine, from_utc, floor_utc, arrivals, reads, state FROM pruned_line
        WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestDroppedSql = "SELECT MAX(seq) FROM dropped";

    private const string DroppedSql = """
        SELECT sha256, seq, size_bytes, segment, position, pruning FROM dropped
        WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    private const string NewestPlacedSql = "SELECT MAX(seq) FROM placed";

    private const string PlacedSql = """
        SELECT seq, sha256, segment, position, stored_bytes FROM placed
        WHERE seq > @After AND seq <= @UpTo ORDER BY seq
        """;

    /// <summary>What was dropped, by its bytes: a bundle shows of it only the rows it needs.</summary>
    public const string Dropped = "dropped";

    /// <summary>In the order in which their digests are said.</summary>
    public static IReadOnlyList<SealedTable> All { get; } =
    [
        new("migration", NewestMigrationSql, MigrationSql),
        new("start", NewestStartSql, StartSql),
        new("blob", NewestBlobSql, BlobSql) { ByKey = true },
        new("arrival", NewestArrivalSql, ArrivalSql),
        new("horizon", NewestHorizonSql, HorizonSql),
        new("source_gap", NewestGapSql, GapSql),
        new("person", NewestPersonSql, PersonSql),
        new("sign_in", NewestSignInSql, SignInSql),
        new("review", NewestReviewSql, ReviewSql),
        new("batch", NewestBatchSql, BatchSql),
        new("derived", NewestDerivedSql, DerivedSql) { BySetup = true },
        new("alert", NewestAlertSql, AlertSql),
        new("message", NewestMessageSql, MessageSql),
        new("told", NewestToldSql, ToldSql),
        new("sending", NewestSendingSql, SendingSql),
        new("quiet", NewestQuietSql, QuietSql),
        new("reminded", NewestRemindedSql, RemindedSql),
        new("pruning", NewestPruningSql, PruningSql),
        new("pruned_line", NewestLineSql, LineSql),
        new(Dropped, NewestDroppedSql, DroppedSql) { ByKey = true },
        new("placed", NewestPlacedSql, PlacedSql),
    ];

    /// <summary>The key of the newest row of each table, in one statement: every transaction asks for it.</summary>
    public static string NewestOfAllSql { get; } = string.Join(" UNION ALL ",
        All.Select(table => $"SELECT '{table.Name}' AS name, ({table.NewestSql}) AS key"));
}
