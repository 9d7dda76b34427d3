using System.Reflection;
using System.Text.Json;

namespace SetupAudit.Store.Postgres;

/// <summary>The statements that only PostgreSQL has, and what its tables are built of.</summary>
internal static class PostgresDialect
{
    private const string Folder = "SetupAudit.Store.Postgres.Migrations.";
    private const string SqlEnding = ".sql";

    public static Dialect Own { get; } = new()
    {
        Migrations = Folder,
        TablesSql = """
            SELECT c.relname::text FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace
            WHERE n.nspname = current_schema() AND c.relkind IN ('r', 'p', 'v', 'm', 'f') ORDER BY c.relname
            """,
        // The kind stands near the front of every entry. It is not read as JSON: the server fails where a text in it
        // has the escape of U+0000.
        EntriesOfKindsSql = """
            SELECT number, body, leaf FROM entry
            WHERE number >= @From
                AND substring(encode(substring(body FROM 1 FOR 512), 'escape') FROM '"kind":"([a-z-]*)"') IN @Kinds
            ORDER BY number LIMIT @Limit
            """,
        // Names of the schema are left out: another shop's may have another.
        PartsSql = """
            WITH here AS (SELECT oid, quote_ident(nspname) || '.' AS prefix FROM pg_namespace
                WHERE nspname = current_schema()),
            parts AS (
                SELECT CASE c.relkind WHEN 'r' THEN 'table' WHEN 'v' THEN 'view' ELSE 'relation' END AS kind,
                    c.relname::text AS name, concat_ws(' ', c.relkind, c.relpersistence, c.relrowsecurity,
                        c.relforcerowsecurity, c.relispartition, array_to_string(c.reloptions, ' '),
                        (SELECT count(*) FROM pg_inherits i WHERE i.inhrelid = c.oid OR i.inhparent = c.oid)) AS text
                FROM pg_class c, here WHERE c.relnamespace = here.oid AND c.relkind IN ('r', 'p', 'v', 'm', 'f')
                UNION ALL SELECT 'column', c.relname || '.' || a.attname, concat_ws(' ',
                    format_type(a.atttypid, a.atttypmod), CASE WHEN a.attnotnull THEN 'NOT NULL' END,
                    CASE WHEN a.attcollation <> 0 THEN (SELECT 'COLLATE ' || l.collname FROM pg_collation l
                        WHERE l.oid = a.attcollation) END,
                    'identity', a.attidentity, 'generated', a.attgenerated, pg_get_expr(d.adbin, d.adrelid))
                FROM here, pg_class c JOIN pg_attribute a ON a.attrelid = c.oid
                    LEFT JOIN pg_attrdef d ON d.adrelid = a.attrelid AND d.adnum = a.attnum
                WHERE c.relnamespace = here.oid AND c.relkind = 'r' AND a.attnum > 0 AND NOT a.attisdropped
                UNION ALL SELECT 'constraint', c.relname || '.' || k.conname, concat_ws(' ',
                    replace(pg_get_constraintdef(k.oid), here.prefix, ''), k.convalidated)
                FROM here, pg_class c JOIN pg_constraint k ON k.conrelid = c.oid
                WHERE c.relnamespace = here.oid AND k.contype IN ('c', 'f', 'p', 'u', 'x')
                UNION ALL SELECT 'index', c.relname::text, concat_ws(' ',
                    replace(pg_get_indexdef(i.indexrelid), here.prefix, ''), i.indisvalid, i.indisready)
                FROM here, pg_index i JOIN pg_class c ON c.oid = i.indexrelid WHERE c.relnamespace = here.oid
                UNION ALL SELECT 'trigger', c.relname || '.' || t.tgname, concat_ws(' ',
                    replace(pg_get_triggerdef(t.oid), here.prefix, ''), t.tgenabled)
                FROM here, pg_class c JOIN pg_trigger t ON t.tgrelid = c.oid
                WHERE c.relnamespace = here.oid AND NOT t.tgisinternal
                UNION ALL SELECT 'disabled trigger', c.relname || '.' || t.tgname, t.tgenabled::text
                FROM here, pg_class c JOIN pg_trigger t ON t.tgrelid = c.oid
                WHERE c.relnamespace = here.oid AND t.tgisinternal AND t.tgenabled <> 'O'
                UNION ALL SELECT 'function', p.proname || '(' || pg_get_function_identity_arguments(p.oid) || ')',
                    concat_ws(' ', l.lanname, p.prokind, p.prosecdef, array_to_string(p.proconfig, ' '), p.prosrc)
                FROM here, pg_proc p JOIN pg_language l ON l.oid = p.prolang WHERE p.pronamespace = here.oid
                UNION ALL SELECT 'rule', r.tablename || '.' || r.rulename, replace(r.definition, here.prefix, '')
                FROM here, pg_rules r WHERE r.schemaname = current_schema()
                UNION ALL SELECT 'policy', p.tablename || '.' || p.policyname, concat_ws(' ', p.cmd, p.qual)
                FROM pg_policies p WHERE p.schemaname = current_schema())
            SELECT kind, name, text FROM parts ORDER BY kind COLLATE "C", name COLLATE "C"
            """,
    };

    public static MigrationSet Migrations { get; } = MigrationSet.Of(Own);

    /// <summary>What tables are built of after a migration; nothing for one that is not known.</summary>
    public static IReadOnlyDictionary<string, string> Parts(string? migration)
    {
        if (migration is null) return new Dictionary<string, string>(StringComparer.Ordinal);
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(
            Folder + migration[..^SqlEnding.Length] + ".json");
        return stream is null ? throw new InvalidOperationException($"nothing says what {migration} builds")
            : JsonSerializer.Deserialize<Dictionary<string, string>>(stream)
                ?? throw new InvalidOperationException($"{migration} builds nothing");
    }
}
