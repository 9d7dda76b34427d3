using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Diagnosers;
using BenchmarkDotNet.Jobs;

namespace SetupAudit.Benchmarks;

/// <summary>Few runs, and what each allocates: enough to see a factor, not a per cent. For a per cent, pass --job medium.</summary>
public sealed class ShortRun : ManualConfig
{
    public ShortRun()
    {
        Add(DefaultConfig.Instance);
        AddJob(Job.ShortRun);
        AddDiagnoser(MemoryDiagnoser.Default);
        WithArtifactsPath(Path.Combine("artifacts", "benchmarks"));
    }
}
