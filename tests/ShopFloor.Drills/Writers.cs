using System.Collections.Concurrent;
using System.Net;
using System.Threading.Channels;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Drills;

/// <summary>Clients that write one customer after another, and remember what they were told.</summary>
internal sealed class Writers(HttpClient api, string name, int clients)
{
    private readonly ConcurrentBag<(string Id, string Name)> acknowledged = [];
    private readonly ConcurrentBag<string> unanswered = [];
    private readonly Channel<bool> answers = Channel.CreateUnbounded<bool>();
    private Task running = Task.CompletedTask;
    private int next;
    private int repeats;
    private volatile bool isEnough;

    /// <summary>Id and name of each customer the server said was written.</summary>
    public IReadOnlyCollection<(string Id, string Name)> Acknowledged => acknowledged;

    /// <summary>Names sent, never answered: they may be written or not, but never twice.</summary>
    public IReadOnlyCollection<string> Unanswered => unanswered;

    /// <summary>Whether what was not answered is sent again until it is; else a client ends there.</summary>
    public bool KeepsTrying { get; init; }

    /// <summary>How often something was sent again.</summary>
    public int Repeats => repeats;

    public void Start() => running = Task.WhenAll(Enumerable.Range(0, clients).Select(_ => Task.Run(WriteAsync)));

    /// <summary>Waits until so many were acknowledged; the others are in the middle of theirs then.</summary>
    public async Task ReachAsync(int count)
    {
        for (var n = 0; n < count; n++)
        {
            var told = answers.Reader.ReadAsync(TestContext.Current.CancellationToken).AsTask();
            Assert.True(await Task.WhenAny(told, running) == told, "The writers gave up.");
        }
    }

    /// <summary>Ends after the write that each is at; those of a dead server have ended.</summary>
    public async Task StopAsync()
    {
        isEnough = true;
        await running;
    }

    /// <summary>Sends what was never answered once more, under the same keys.</summary>
    public async Task RepeatAsync()
    {
        foreach (var one in unanswered)
        {
            var created = await api.PostAsync("/api/v1/customers", new { name = one }, key: KeyOf(one));
            acknowledged.Add((created.GetProperty("id").GetString()!, one));
        }

        unanswered.Clear();
    }

    private async Task WriteAsync()
    {
        while (!isEnough)
        {
            var one = $"{name} no. {Interlocked.Increment(ref next)}";
            while (!await TryAsync(one))
            {
                if (!KeepsTrying)
                {
                    unanswered.Add(one);
                    return;
                }

                // As a tablet does: the same tap under the same key, until somebody answers.
                Interlocked.Increment(ref repeats);
                await Task.Delay(TimeSpan.FromMilliseconds(50), TestContext.Current.CancellationToken);
            }
        }
    }

    /// <summary>False where nobody knows whether it was written.</summary>
    private async Task<bool> TryAsync(string one)
    {
        try
        {
            using var answer = await api.SendAsync(
                HttpMethod.Post,
                "/api/v1/customers",
                new { name = one },
                KeyOf(one)
            );
            if (
                answer.StatusCode
                is HttpStatusCode.ServiceUnavailable
                    or HttpStatusCode.BadGateway
                    or HttpStatusCode.GatewayTimeout
            )
            {
                // The database, or the server behind a proxy, went away in the middle.
                return false;
            }

            var created = await answer.JsonAsync(201);
            acknowledged.Add((created.GetProperty("id").GetString()!, one));
            answers.Writer.TryWrite(true);
            return true;
        }
        catch (Exception exception) when (exception is HttpRequestException or IOException)
        {
            return false;
        }
    }

    private static string KeyOf(string one) => $"drill {one}";
}
