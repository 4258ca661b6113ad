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
    private volatile bool isEnough;

    /// <summary>Id and name of each customer the server said was written.</summary>
    public IReadOnlyCollection<(string Id, string Name)> Acknowledged => acknowledged;

    /// <summary>Names sent, never answered: they may be written or not, but never twice.</summary>
    public IReadOnlyCollection<string> Unanswered => unanswered;

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
            try
            {
                using var answer = await api.SendAsync(
                    HttpMethod.Post,
                    "/api/v1/customers",
                    new { name = one },
                    KeyOf(one)
                );
                if (answer.StatusCode == HttpStatusCode.ServiceUnavailable)
                {
                    // Its database went away in the middle: the server itself does not know.
                    unanswered.Add(one);
                    return;
                }

                Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
                var created = await answer.JsonAsync(201);
                acknowledged.Add((created.GetProperty("id").GetString()!, one));
                answers.Writer.TryWrite(true);
            }
            catch (Exception exception) when (exception is HttpRequestException or IOException)
            {
                unanswered.Add(one);
                return;
            }
        }
    }

    private static string KeyOf(string one) => $"drill {one}";
}
