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

// How much one server holds: connections of the floor, writes, slow and flooding callers: … -- load
if (args is ["load"])
{
    await LoadMeasure.RunAsync();
    return;
}

// A customer's page against an endpoint that does nothing: … -- progress
if (args is ["progress"])
{
    await ProgressMeasure.RunAsync();
    return;
}

// The owner's week with 1,000 and with 100,000 jobs of history: … -- week [sqlite|postgres]
if (args is ["week", ..])
{
    await WeekMeasure.RunAsync(args.ElementAtOrDefault(1));
    return;
}

// Published instances and shop lists through both solvers: … -- solvers [ft10|shops|u120|t60|lists]
if (args is ["solvers", ..])
{
    SolverMeasure.Write(Console.Out, args.ElementAtOrDefault(1));
    return;
}

// A forecast of a full shop: … -- forecast
if (args is ["forecast"])
{
    ForecastMeasure.Write(Console.Out);
    return;
}

BenchmarkSwitcher.FromAssembly(typeof(QuoteBenchmarks).Assembly).Run(args);
