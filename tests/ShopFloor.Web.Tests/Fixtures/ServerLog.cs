using System.Globalization;
using Microsoft.AspNetCore.Hosting;
using Microsoft.Extensions.Logging;

namespace ShopFloor.Web.Tests.Fixtures;

/// <summary>Keeps what the servers under test report in a file beside the tests, so that the console shows the tests. <c>test.sh</c> shows its errors when a test failed.</summary>
public sealed class ServerLog(string shop) : ILoggerProvider
{
    private static readonly Lock Gate = new();
    private static readonly string Place = Path.Combine(AppContext.BaseDirectory, "logs", "servers.log");

    public ILogger CreateLogger(string categoryName) => new Lines(shop, categoryName);

    public void Dispose()
    {
        // Each line is written at once and the file closed.
    }

    private static void Write(string text)
    {
        lock (Gate)
        {
            Directory.CreateDirectory(Path.GetDirectoryName(Place)!);
            File.AppendAllText(Place, text + Environment.NewLine);
        }
    }

    private sealed class Lines(string shop, string category) : ILogger
    {
        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => logLevel >= LogLevel.Warning;

        public void Log<TState>(
            LogLevel logLevel,
            EventId eventId,
            TState state,
            Exception? exception,
            Func<TState, Exception?, string> formatter
        )
        {
            if (IsEnabled(logLevel))
            {
                var time = TimeProvider.System.GetUtcNow().ToString("HH:mm:ss.fff", CultureInfo.InvariantCulture);
                Write($"{time} {logLevel} {shop} {category}: {formatter(state, exception)} {exception}".TrimEnd());
            }
        }
    }
}

public static class ServerLogs
{
    public static void LogToFile(this IWebHostBuilder builder, string shop) =>
        builder.ConfigureLogging(l => l.ClearProviders().AddProvider(new ServerLog(shop)));
}
