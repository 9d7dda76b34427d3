using BenchmarkDotNet.Running;
using SetupAudit.Benchmarks;

if (args is ["verifying"]) await Verifying.RunAsync(Console.Out);
else BenchmarkSwitcher.FromAssembly(typeof(ShortRun).Assembly).Run(args, new ShortRun());
