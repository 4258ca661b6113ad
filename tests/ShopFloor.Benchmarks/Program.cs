using BenchmarkDotNet.Running;
using ShopFloor.Benchmarks;

// All of them: dotnet run -c Release --project tests/ShopFloor.Benchmarks -- --filter '*'
// From a tap to another screen: dotnet run -c Release --project tests/ShopFloor.Benchmarks -- live
if (args is ["live"])
{
    await LiveMeasure.RunAsync();
    return;
}

// What each calculator costs in times of an empty call, also on a busy machine: … -- shares
if (args is ["shares"])
{
    await CalculatorShares.WriteAsync(Console.Out);
    return;
}

BenchmarkSwitcher.FromAssembly(typeof(QuoteBenchmarks).Assembly).Run(args);
