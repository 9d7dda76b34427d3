using BenchmarkDotNet.Running;
using SetupAudit.Benchmarks;

if (args is ["verifying", .. var rest]) await Verifying.RunAsync(Console.Out, rest.FirstOrDefault());
else if (args is ["polling"]) Polling.Run(Console.Out);
else BenchmarkSwitcher.FromAssembly(typeof(ShortRun).Assembly).Run(args, new ShortRun());
