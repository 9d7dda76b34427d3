using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>Reads the times that one machine's files write in one format.</summary>
internal sealed class WrittenTime(string format, MachineConfig machine, ShopClock clock)
{
    public string Format { get; } = format;

    /// <summary>The moment in UTC, the machine's zone and clock taken into account. Does not throw.</summary>
    public bool TryRead(ReadOnlySpan<char> text, out DateTimeOffset utc)
    {
        utc = default;
        if (!TimeFormat.TryRead(text, Format, out var local, out var offset)) return false;
        utc = offset is { } written
            ? ShopClock.PutRight(new DateTimeOffset(local, written), machine)
            : clock.ToUtc(local, machine);
        return true;
    }
}
