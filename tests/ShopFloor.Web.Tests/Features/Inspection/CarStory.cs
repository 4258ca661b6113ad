using System.Net.Http.Headers;
using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using SkiaSharp;

namespace ShopFloor.Web.Tests.Features.Inspection;

/// <summary>A car taken through the shop by API calls, as far as a test needs it.</summary>
internal sealed class CarStory
{
    private const string Root = "/api/v1";
    private readonly ShopHost shop;

    private CarStory(ShopHost shop)
    {
        this.shop = shop;
        HotWork = new HotWorkDuty(shop);
    }

    public HotWorkDuty HotWork { get; }

    public HttpClient Desk { get; private set; } = null!;
    public HttpClient Fabricator { get; private set; } = null!;
    public HttpClient Inspector { get; private set; } = null!;
    public HttpClient Owner { get; private set; } = null!;
    public string JobId { get; private set; } = "";
    public string JobPath => $"{Root}/jobs/{JobId}";

    /// <summary>A job of a four-point bar (the shorter route), with the customer's signature.</summary>
    public static async Task<CarStory> BeginAsync(ShopHost shop, string customer = "Ada Kremer", bool isSigned = true)
    {
        var story = new CarStory(shop)
        {
            Desk = await shop.ApiAsync(Role.FrontDesk),
            Fabricator = await shop.ApiAsync(Role.Fabricator),
            Inspector = await shop.ApiAsync(Role.Inspector),
            Owner = await shop.ApiAsync(Role.Owner),
        };
        var customerId = (await story.Desk.PostAsync($"{Root}/customers", new { name = customer }))
            .GetProperty("id")
            .GetString();
        var carId = (
            await story.Desk.PostAsync(
                $"{Root}/cars",
                new
                {
                    customerId,
                    make = "Ferrow",
                    model = "Lynx",
                    modelYear = 2005,
                }
            )
        ).GetProperty("id").GetString();
        await story.SellAsync(
            customer,
            new
            {
                customerId,
                carId,
                kitCode = "four-point-half-bar",
                useCode = "street",
                ruleSetCodes = new[] { "house-street", "fia-appendix-j-253" },
                doors = Array.Empty<object>(),
                condition = new { deadening = "none" },
            }
        );
        if (isSigned)
        {
            await story.SignAsync();
        }

        return story;
    }

    /// <summary>The job of another sale: a kit that is sent, a part, a return visit.</summary>
    public static async Task<CarStory> OfSaleAsync(ShopHost shop, string customer, object quote)
    {
        var story = new CarStory(shop)
        {
            Desk = await shop.ApiAsync(Role.FrontDesk),
            Fabricator = await shop.ApiAsync(Role.Fabricator),
            Inspector = await shop.ApiAsync(Role.Inspector),
            Owner = await shop.ApiAsync(Role.Owner),
        };
        await story.SellAsync(customer, quote);
        return story;
    }

    /// <summary>Quoted, sent, accepted, opened.</summary>
    private async Task SellAsync(string customer, object sale)
    {
        var quote = await Desk.PostAsync($"{Root}/quotes", sale);
        var quotePath = $"{Root}/quotes/{quote.GetProperty("id").GetString()}";
        var sent = await Desk.PostAsync($"{quotePath}/send", new { }, 200);
        await Desk.PostAsync(
            $"{quotePath}/accept",
            new { acceptedBy = customer, contentHash = sent.GetProperty("contentHash").GetString() },
            200
        );
        var job = await Desk.PostAsync($"{Root}/jobs", new { quoteId = quote.GetProperty("id").GetString() });
        JobId = job.GetProperty("id").GetString()!;
    }

    public async Task SignAsync()
    {
        using var dropOff = await Desk.SendAsync(
            HttpMethod.Put,
            $"{JobPath}/drop-off",
            new
            {
                odometerKm = 120_000,
                warningLights = Array.Empty<string>(),
                fuelPercent = 40,
                keys = 2,
                conditionFound = new { deadening = "none" },
                battery = "good",
                photoConsent = "refused",
            }
        );
        Assert.True(dropOff.IsSuccessStatusCode, await dropOff.Content.ReadAsStringAsync());
        await Desk.PostAsync(
            $"{JobPath}/authorisation",
            new { signature = new { kind = "printedSheet", signedBy = "Ada Kremer" } },
            200
        );
    }

    /// <summary>All that the sign-off asks for beside the work: the customer pays, the owner accepts what nobody wrote down of material and welds.</summary>
    public async Task SettleAsync()
    {
        await PayAsync();
        var missing = (await Owner.GetJsonAsync($"{JobPath}/materials")).GetProperty("gaps").GetArrayLength();
        if (missing > 0)
        {
            await Owner.PostAsync(
                $"{JobPath}/materials/accept-missing",
                new { reason = "Not written down in this story" },
                200
            );
        }
    }

    /// <summary>The customer pays what is due.</summary>
    public async Task PayAsync()
    {
        var due = (await Desk.GetJsonAsync($"{JobPath}/account")).GetProperty("balanceMinor").GetInt64();
        if (due > 0)
        {
            await Desk.PostAsync(
                $"{JobPath}/account/payments",
                new { amountMinor = due, method = "bankTransfer" },
                200
            );
        }
    }

    /// <summary>Paid and signed off by the second person.</summary>
    public async Task<JsonElement> SignOffAsync(object? body = null)
    {
        await SettleAsync();
        return await Inspector.PostAsync($"{JobPath}/sign-off", body ?? new { }, 200);
    }

    public Task<JsonElement> JobAsync() => Owner.GetJsonAsync(JobPath);

    public Task<JsonElement> InspectionAsync() => Inspector.GetJsonAsync($"{JobPath}/inspection");

    public async Task<JsonElement> LineAsync(string code) =>
        (await InspectionAsync())
            .GetProperty("inspection")
            .GetProperty("lines")
            .EnumerateArray()
            .Single(l => l.GetProperty("code").GetString() == code);

    /// <summary>Adds a photo to the job and gives its id.</summary>
    public async Task<string> PhotoAsync()
    {
        using var form = new MultipartFormDataContent();
        using var file = new ByteArrayContent(Picture());
        file.Headers.ContentType = new MediaTypeHeaderValue("image/png");
        form.Add(file, "file", "weld.png");
        using var response = await Fabricator.PostAsync(
            new Uri($"{JobPath}/photos", UriKind.Relative),
            form,
            TestContext.Current.CancellationToken
        );
        return (await response.JsonAsync(201)).GetProperty("id").GetString()!;
    }

    /// <summary>Passes every line of an operation with a value in the middle of its limits.</summary>
    public async Task PassLinesAsync(string operation)
    {
        foreach (var line in await LinesOfAsync(operation))
        {
            await PassAsync(line);
        }
    }

    public async Task PassAsync(JsonElement line)
    {
        var photos = line.GetProperty("photoRequired").GetBoolean() ? new[] { await PhotoAsync() } : [];
        var code = line.GetProperty("code").GetString();
        object body =
            line.GetProperty("unit").ValueKind == JsonValueKind.Null
                ? new
                {
                    line = code,
                    result = "passed",
                    photoIds = photos,
                }
                : new
                {
                    line = code,
                    value = Middle(line),
                    photoIds = photos,
                    note = "With the bench's own gauge",
                };
        var taken = await Inspector.PostAsync($"{JobPath}/readings", body);
        Assert.Equal("passed", taken.GetProperty("lineState").GetString());
    }

    /// <summary>Does operations in route order, lines included, up to and with the one named (or all); cures are waited for, permits opened, and the last watch is over.</summary>
    public async Task WorkUntilAsync(string? last = null)
    {
        await DoUntilAsync(last);
        await HotWork.CloseAllAsync();
    }

    private async Task DoUntilAsync(string? last)
    {
        while (true)
        {
            var next = (await JobAsync())
                .GetProperty("operations")
                .EnumerateArray()
                .FirstOrDefault(o => o.GetProperty("state").GetString() != "done");
            if (next.ValueKind == JsonValueKind.Undefined)
            {
                return;
            }

            var code = next.GetProperty("code").GetString()!;
            if (
                next.GetProperty("waitsForSignOff").GetBoolean()
                || (last is not null && string.CompareOrdinal(code.PadLeft(4), last.PadLeft(4)) > 0)
            )
            {
                return;
            }

            var state = next.GetProperty("state").GetString();
            if (state == "waiting" && next.GetProperty("reasons").ToString().Contains("cure", StringComparison.Ordinal))
            {
                shop.Clock.Advance(TimeSpan.FromHours(12));
            }

            if (next.GetProperty("hotWork").GetBoolean())
            {
                await HotWork.PermitAsync(JobId, code);
            }
            else if (state == "waiting")
            {
                await HotWork.CloseAllAsync();
            }

            await Fabricator.PostAsync($"{JobPath}/operations/{code}/start", new { }, 200);
            shop.Clock.Advance(TimeSpan.FromMinutes(30));
            await PassLinesAsync(code);
            await Fabricator.PostAsync($"{JobPath}/operations/{code}/finish", new { }, 200);
        }
    }

    private async Task<IReadOnlyList<JsonElement>> LinesOfAsync(string operation) =>
        [
            .. (await InspectionAsync())
                .GetProperty("inspection")
                .GetProperty("lines")
                .EnumerateArray()
                .Where(l =>
                    l.GetProperty("operation").GetString() == operation
                    && l.GetProperty("state").GetString() is not ("passed" or "accepted")
                ),
        ];

    private static decimal Middle(JsonElement line)
    {
        var lower = line.GetProperty("lower").GetDecimal();
        var upper = line.GetProperty("upper").GetDecimal();
        return Math.Round((lower + upper) / 2, 2);
    }

    internal static byte[] Picture()
    {
        using var bitmap = new SKBitmap(64, 48);
        bitmap.Erase(SKColors.SteelBlue);
        using var data = bitmap.Encode(SKEncodedImageFormat.Png, 90);
        return data.ToArray();
    }
}
