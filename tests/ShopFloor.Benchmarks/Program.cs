using BenchmarkDotNet.Running;

// All of them: dotnet run -c Release --project tests/ShopFloor.Benchmarks -- --filter '*'
BenchmarkSwitcher.FromAssembly(typeof(ShopFloor.Benchmarks.QuoteBenchmarks).Assembly).Run(args);
