using BenchmarkDotNet.Running;
using ShopFloor.Benchmarks;

// All of them: dotnet run -c Release --project tests/ShopFloor.Benchmarks -- --filter '*'
// From a tap to another screen: dotnet run -c Release --project tests/ShopFloor.Benchmarks -- live
if (args is ["live"])
{
    await LiveMeasure.RunAsync();
    return;
}

BenchmarkSwitcher.FromAssembly(typeof(QuoteBenchmarks).Assembly).Run(args);
