using System.Collections;
using System.Data.Common;
using System.Diagnostics.CodeAnalysis;
using Npgsql;

namespace SetupAudit.Store.Postgres;

/// <summary>The rows of a statement, their texts as they were before they went into the database.</summary>
internal sealed class PostgresRows(NpgsqlDataReader inner) : DbDataReader
{
    /// <summary>What ends with the rows.</summary>
    public IDisposable? Session { get; init; }

    public override int Depth => inner.Depth;

    public override int FieldCount => inner.FieldCount;

    public override bool HasRows => inner.HasRows;

    public override bool IsClosed => inner.IsClosed;

    public override int RecordsAffected => inner.RecordsAffected;

    public override object this[int ordinal] => GetValue(ordinal);

    public override object this[string name] => GetValue(GetOrdinal(name));

    public override bool GetBoolean(int ordinal) => inner.GetBoolean(ordinal);

    public override byte GetByte(int ordinal) => inner.GetByte(ordinal);

    public override long GetBytes(int ordinal, long dataOffset, byte[]? buffer, int bufferOffset, int length) =>
        inner.GetBytes(ordinal, dataOffset, buffer, bufferOffset, length);

    public override char GetChar(int ordinal) => inner.GetChar(ordinal);

    public override long GetChars(int ordinal, long dataOffset, char[]? buffer, int bufferOffset, int length) =>
        throw new NotSupportedException();

    public override string GetDataTypeName(int ordinal) => inner.GetDataTypeName(ordinal);

    public override DateTime GetDateTime(int ordinal) => inner.GetDateTime(ordinal);

    public override decimal GetDecimal(int ordinal) => inner.GetDecimal(ordinal);

    public override double GetDouble(int ordinal) => inner.GetDouble(ordinal);

    public override IEnumerator GetEnumerator() => new DbEnumerator(this);

    [return: DynamicallyAccessedMembers(
        DynamicallyAccessedMemberTypes.PublicFields | DynamicallyAccessedMemberTypes.PublicProperties)]
    public override Type GetFieldType(int ordinal) => inner.GetFieldType(ordinal);

    public override T GetFieldValue<T>(int ordinal) => typeof(T) == typeof(string)
        ? (T)(object)GetString(ordinal)
        : inner.GetFieldValue<T>(ordinal);

    public override float GetFloat(int ordinal) => inner.GetFloat(ordinal);

    public override Guid GetGuid(int ordinal) => inner.GetGuid(ordinal);

    public override short GetInt16(int ordinal) => inner.GetInt16(ordinal);

    public override int GetInt32(int ordinal) => inner.GetInt32(ordinal);

    public override long GetInt64(int ordinal) => inner.GetInt64(ordinal);

    public override string GetName(int ordinal) => inner.GetName(ordinal);

    public override int GetOrdinal(string name) => inner.GetOrdinal(name);

    public override string GetString(int ordinal) => PostgresText.FromColumn(inner.GetString(ordinal));

    public override object GetValue(int ordinal) =>
        inner.GetValue(ordinal) is var value && value is string text ? PostgresText.FromColumn(text) : value;

    public override int GetValues(object[] values)
    {
        var count = inner.GetValues(values);
        for (var column = 0; column < count; column++)
            if (values[column] is string text) values[column] = PostgresText.FromColumn(text);
        return count;
    }

    public override bool IsDBNull(int ordinal) => inner.IsDBNull(ordinal);

    public override Task<bool> IsDBNullAsync(int ordinal, CancellationToken cancellationToken) =>
        inner.IsDBNullAsync(ordinal, cancellationToken);

    public override bool NextResult() => inner.NextResult();

    public override Task<bool> NextResultAsync(CancellationToken cancellationToken) =>
        inner.NextResultAsync(cancellationToken);

    public override bool Read() => inner.Read();

    public override Task<bool> ReadAsync(CancellationToken cancellationToken) => inner.ReadAsync(cancellationToken);

    public override void Close() => inner.Close();

    public override Task CloseAsync() => inner.CloseAsync();

    public override async ValueTask DisposeAsync()
    {
        await inner.DisposeAsync();
        await base.DisposeAsync();
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            inner.Dispose();
            Session?.Dispose();
        }
        base.Dispose(disposing);
    }
}
