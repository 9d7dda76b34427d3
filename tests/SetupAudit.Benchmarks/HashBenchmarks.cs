using System.Security.Cryptography;
using BenchmarkDotNet.Attributes;

namespace SetupAudit.Benchmarks;

/// <summary>The floor under every arrival: its bytes are hashed, whatever else is done with them.</summary>
public class HashBenchmarks
{
    private readonly byte[] _dump = Data.Dump();
    private readonly byte[] _program = Data.Program(1_000_000);

    [Benchmark]
    public byte[] A_dump_of_6_KB() => SHA256.HashData(_dump);

    [Benchmark]
    public byte[] A_program_of_1_MB() => SHA256.HashData(_program);
}
