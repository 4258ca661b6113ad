using System.Net;
using System.Net.Http.Headers;
using System.Text;
using Microsoft.AspNetCore.Http;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Workbench;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Workbench;

/// <summary>The program on a real port, where the server's own limits hold too.</summary>
public sealed class KestrelShop : ShopHost
{
    private readonly int port = Ports.Free();

    public KestrelShop() => UseKestrel(port);

    public Uri Address => new($"http://127.0.0.1:{port}");

    public override string Kind => "sqlite on a port";

    protected override Task<string?> NewConnectionAsync() => Task.FromResult<string?>(null);
}

/// <summary>Lists far longer than a calculator takes: refused by the list's name, whatever the size of the body.</summary>
public sealed class OverlongListTests(KestrelShop shop) : IClassFixture<KestrelShop>
{
    private const string Point = """{"xMm": 12.5, "yMm": 0, "zMm": 1000}""";

    public static TheoryData<string, string, string, string, string> Lists =>
        new()
        {
            {
                "tube-path",
                "points",
                """{"outsideDiameterMm": 45, "wallMm": 2.5, "centrelineRadiusMm": 135, "points": [""",
                Point,
                "]}"
            },
            { "tube-path", "points", """{"points": [""", Point, """], "outsideDiameterMm": 45}""" },
            {
                "hinge-cut",
                "ends",
                """{"ends": [""",
                """{"name": "a", "jointRootMm": 1, "bendTangentMm": 2, "insertLengthMm": 1, "bodyLengthMm": 1}""",
                "]}"
            },
            {
                "three-point",
                "items",
                """{"items": [""",
                """{"lowHours": 1, "likelyHours": 2, "highHours": 3}""",
                "]}"
            },
            {
                "totals",
                "lines",
                """{"currency": "EUR", "taxes": [], "lines": [""",
                """{"description": "Bar", "quantity": 1, "unitPriceMinor": 5}""",
                "]}"
            },
            { "sequence-check", "operations", """{"ways": [], "operations": [""", """{"id": "a"}""", "]}" },
        };

    [Theory]
    [MemberData(nameof(Lists))]
    public async Task A_million_items_are_refused_by_the_name_of_their_list(
        string call,
        string field,
        string head,
        string item,
        string tail
    )
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        api.BaseAddress = shop.Address;
        using var content = new Repeated(head, item, 1_000_000, tail);

        using var answer = await api.PostAsync(
            new Uri("/api/v1/calculators/" + call, UriKind.Relative),
            content,
            TestContext.Current.CancellationToken
        );

        var problem = await answer.JsonAsync(400);
        Assert.True(problem.GetProperty("errors").TryGetProperty(field, out _), problem.ToString());
    }

    [Fact]
    public async Task A_body_that_is_large_for_another_reason_is_too_large()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        api.BaseAddress = shop.Address;
        using var content = new Repeated("""{"points": [""", Point, 2, "]" + new string(' ', 30_000_000) + "}");

        using var answer = await api.PostAsync(
            new Uri("/api/v1/calculators/tube-path", UriKind.Relative),
            content,
            TestContext.Current.CancellationToken
        );

        await answer.JsonAsync(413);
    }

    [Fact]
    public async Task No_more_of_a_body_is_read_than_the_limit()
    {
        await using var endless = new Endless("""{"points": [""", Point + ",");
        var http = new DefaultHttpContext();
        http.Request.ContentType = "application/json";
        http.Request.Body = endless;

        var body = await Body<TubeEndpoints.TubePathBody>.BindAsync(http, null!);

        var failure = Assert.IsType<Failure.Invalid>(body.Failure);
        Assert.Equal("points", Assert.Single(failure.Errors).Path);
        Assert.InRange(endless.Given, ApiLimits.JsonBytes, ApiLimits.JsonBytes + 16 * 1024);
    }

    /// <summary>Written while it is sent, with its length said beforehand.</summary>
    private sealed class Repeated : HttpContent
    {
        private readonly byte[] head;
        private readonly byte[] item;
        private readonly byte[] tail;
        private readonly int times;

        public Repeated(string head, string item, int times, string tail)
        {
            this.head = Encoding.UTF8.GetBytes(head + item);
            this.item = Encoding.UTF8.GetBytes("," + item);
            this.tail = Encoding.UTF8.GetBytes(tail);
            this.times = times - 1;
            Headers.ContentType = new MediaTypeHeaderValue("application/json");
        }

        protected override async Task SerializeToStreamAsync(Stream stream, TransportContext? context)
        {
            await stream.WriteAsync(head);
            for (var i = 0; i < times; i++)
            {
                await stream.WriteAsync(item);
            }

            await stream.WriteAsync(tail);
        }

        protected override bool TryComputeLength(out long length)
        {
            length = head.Length + ((long)times * item.Length) + tail.Length;
            return true;
        }
    }

    /// <summary>A body that never ends, and counts what was read of it.</summary>
    private sealed class Endless(string head, string item) : Stream
    {
        private readonly byte[] item = Encoding.UTF8.GetBytes(item);
        private readonly Queue<byte> next = new(Encoding.UTF8.GetBytes(head));

        public long Given { get; private set; }

        public override bool CanRead => true;
        public override bool CanSeek => false;
        public override bool CanWrite => false;
        public override long Length => throw new NotSupportedException();
        public override long Position
        {
            get => Given;
            set => throw new NotSupportedException();
        }

        public override int Read(byte[] buffer, int offset, int count)
        {
            for (var i = 0; i < count; i++)
            {
                if (next.Count == 0)
                {
                    Array.ForEach(item, next.Enqueue);
                }

                buffer[offset + i] = next.Dequeue();
            }

            Given += count;
            return count;
        }

        public override void Flush() { }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }
}
