using System.Globalization;
using System.Text;
using BenchmarkDotNet.Attributes;
using SetupAudit.Readings;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Benchmarks;

/// <summary>
/// Reading and hashing (twice: the bytes, and the text without comments) a program of 16 MB that comes in pieces of
/// 128 KiB. A time of 53 ms is 300 MB/s; what is allocated does not grow with the size.
/// Run: dotnet run -c Release --project tests/SetupAudit.Benchmarks -- --filter "*ProgramReading*"
/// </summary>
public class ProgramReading
{
    private const int ProgramBytes = 16_000_000;
    private const int PieceBytes = 128 * 1024;

    private static readonly MachineConfig Machine =
        new() { Name = "mill-3", Kind = MachineKind.Mill, Units = Unit.Millimetre };

    private readonly byte[] _spaced = Data.Program(ProgramBytes);
    private readonly byte[] _dense = Fill((x, y, _) => $"X{x:0.000}Y{y:0.000}Z{x / 10:0.0000}");
    private readonly byte[] _everyLineCommented = Fill((x, y, line) => $"N{line} G1 X{x:0.000} Y{y:0.000} (MADE UP)");

    /// <summary>"N380 G1 X12.345 Y-6.789 F650.", with drilling and tool changes between.</summary>
    [Benchmark(Baseline = true)]
    public ProgramText Spaced() => Read(_spaced);

    /// <summary>"X12.345Y-6.789Z1.2345": what a programming system writes for a surface.</summary>
    [Benchmark]
    public ProgramText Dense() => Read(_dense);

    /// <summary>No line takes the short way of plain moves: the floor.</summary>
    [Benchmark]
    public ProgramText EveryLineCommented() => Read(_everyLineCommented);

    private static ProgramText Read(ReadOnlySpan<byte> bytes)
    {
        using var reader = new ProgramReader(Machine, "programs/made-up.nc", DateTimeOffset.UnixEpoch);
        for (; bytes.Length > PieceBytes; bytes = bytes[PieceBytes..]) reader.Feed(bytes[..PieceBytes]);
        reader.Feed(bytes);
        return reader.Finish();
    }

    private static byte[] Fill(Func<decimal, decimal, int, FormattableString> line)
    {
        var text = new StringBuilder("%\nO7\nG21 G90 G54\nT3 M6\nG1 F600.\n", ProgramBytes + 256);
        for (var index = 0; text.Length < ProgramBytes; index++)
        {
            var (x, y) = (index * 37 % 110_000 / 1000m, index * 53 % 75_000 / -1000m);
            text.Append(line(x, y, index % 10_000).ToString(CultureInfo.InvariantCulture)).Append('\n');
        }
        return Encoding.ASCII.GetBytes(text.Append("M30\n%\n").ToString());
    }
}
