using BenchmarkDotNet.Running;
using SetupAudit.Benchmarks;

BenchmarkSwitcher.FromAssembly(typeof(ShortRun).Assembly).Run(args, new ShortRun());
