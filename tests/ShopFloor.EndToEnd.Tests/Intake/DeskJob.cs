using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Common;
using ShopFloor.Application.Materials;
using ShopFloor.Application.People;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;

namespace ShopFloor.EndToEnd.Tests.Intake;

/// <summary>Jobs for browser tests that begin at the counter, made through the API.</summary>
internal sealed class DeskJob(HttpClient api)
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    public static async Task<DeskJob> AtAsync(BrowserShop shop)
    {
        await using var scope = shop.Services.CreateAsyncScope();
        var key = await scope
            .ServiceProvider.GetRequiredService<CreateApiKey>()
            .RunAsync(
                new CreateApiKey.Request("browser test", "front-desk", StaffedShop.EmailOf(Role.FrontDesk)),
                Envelope.Of(Actor.System),
                CancellationToken.None
            );
        var client = new HttpClient { BaseAddress = new Uri(shop.Url) };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key.Value.Key);
        return new DeskJob(client);
    }

    /// <summary>An accepted quote of a six-point bar, and its job's id.</summary>
    public async Task<string> OpenAsync(string customerName)
    {
        var quote = await AcceptedQuoteAsync(customerName);
        return (await PostAsync("/api/v1/jobs", new { quoteId = quote })).GetProperty("id").GetString()!;
    }

    /// <summary>A job on which everything before its first hot work was done before it was entered.</summary>
    public Task<string> OpenReadyForHotWorkAsync(string customerName) => OpenDoneAsync(customerName, before: "50");

    /// <summary>A job on which everything was done before it was entered, or everything before one operation.</summary>
    public async Task<string> OpenDoneAsync(string customerName, string? before = null)
    {
        var job = await ReadAsync($"/api/v1/jobs/{await OpenAsync("Twin Driver")}");
        var yesterday = DateOnly.FromDateTime(TimeProvider.System.GetUtcNow().DateTime).AddDays(-1);
        var done = job.GetProperty("operations")
            .EnumerateArray()
            .TakeWhile(o => o.GetProperty("code").GetString() != before)
            .Select(o => new { code = o.GetProperty("code").GetString(), doneOn = yesterday });
        var quote = await AcceptedQuoteAsync(customerName);
        return (await PostAsync("/api/v1/jobs/half-built", new { quoteId = quote, done }))
            .GetProperty("id")
            .GetString()!;
    }

    /// <summary>The customer pays what is due, as the sign-off asks; the owner accepts what nobody wrote down of material and welds.</summary>
    public async Task SettleAsync(string job, BrowserShop shop)
    {
        await AcceptMissingAsync(job, shop);
        var account = await ReadAsync($"/api/v1/jobs/{job}/account");
        var payment = new { amountMinor = account.GetProperty("balanceMinor").GetInt64(), method = "card" };
        await PostAsync($"/api/v1/jobs/{job}/account/payments", payment);
    }

    /// <summary>The owner's word for what nobody wrote down of material and welds.</summary>
    public static async Task AcceptMissingAsync(string job, BrowserShop shop)
    {
        await using var scope = shop.Services.CreateAsyncScope();
        var owner = await HotWorkDuty.ActorAsync(scope.ServiceProvider, Role.Owner);
        var accepted = await scope
            .ServiceProvider.GetRequiredService<AcceptTraceGaps>()
            .RunAsync(
                JobId.From(Guid.Parse(job)),
                new AcceptTraceGaps.Request(Reason: "Not written down in this story"),
                Envelope.Of(owner),
                Ct
            );
        Assert.True(accepted.IsSuccess, accepted.Failure?.Sentence);
    }

    public async Task<JsonElement> PostAsync(string path, object? body)
    {
        using var response = await api.PostAsJsonAsync(path, body ?? new { }, Ct);
        return await AnswerAsync(response);
    }

    public async Task<JsonElement> PutAsync(string path, object body)
    {
        using var response = await api.PutAsJsonAsync(path, body, Ct);
        return await AnswerAsync(response);
    }

    public async Task<JsonElement> ReadAsync(string path)
    {
        using var response = await api.GetAsync(new Uri(path, UriKind.Relative), Ct);
        return await AnswerAsync(response);
    }

    public async Task<Guid> AddPhotoAsync(string job, byte[] picture)
    {
        using var part = new ByteArrayContent(picture);
        using var form = new MultipartFormDataContent { { part, "file", "photo.png" } };
        using var response = await api.PostAsync(new Uri($"/api/v1/jobs/{job}/photos", UriKind.Relative), form, Ct);
        return (await AnswerAsync(response)).GetProperty("id").GetGuid();
    }

    private async Task<Guid> AcceptedQuoteAsync(string customerName)
    {
        var customer = (await PostAsync("/api/v1/customers", new { name = customerName })).GetProperty("id").GetGuid();
        var car = await PostAsync(
            "/api/v1/cars",
            new
            {
                customerId = customer,
                make = "Corvane",
                model = "Lynx",
                modelYear = 2004,
                registration = "NB 04 LYX",
            }
        );
        var quote = await PostAsync(
            "/api/v1/quotes",
            new
            {
                customerId = customer,
                carId = car.GetProperty("id").GetGuid(),
                kitCode = "six-point-weld-in",
                useCode = "street",
                doors = new[]
                {
                    new { door = "left", hingeOptionCode = "swing-out-pin" },
                    new { door = "right", hingeOptionCode = "fixed" },
                },
                condition = new { rust = "light" },
            }
        );
        var id = quote.GetProperty("id").GetGuid();
        var sent = await PostAsync($"/api/v1/quotes/{id}/send", null);
        var hash = sent.GetProperty("contentHash").GetString();
        await PostAsync($"/api/v1/quotes/{id}/accept", new { acceptedBy = customerName, contentHash = hash });
        return id;
    }

    private static async Task<JsonElement> AnswerAsync(HttpResponseMessage response)
    {
        var text = await response.Content.ReadAsStringAsync(Ct);
        Assert.True(response.IsSuccessStatusCode, $"{(int)response.StatusCode}: {text}");
        return JsonSerializer.Deserialize<JsonElement>(text);
    }
}
