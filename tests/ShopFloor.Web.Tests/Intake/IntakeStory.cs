using System.Net.Http.Headers;
using System.Text.Json;
using ShopFloor.Documents.Tests.Images;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;
using SkiaSharp;

namespace ShopFloor.Web.Tests.Intake;

/// <summary>What tests of drop-off, photos and hand-over begin with: an accepted quote and its job, made through the API.</summary>
internal static class IntakeStory
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    public static object Drawn { get; } = new
    {
        kind = "onScreen",
        signedBy = "Ada Kremer",
        strokes = new[] { new[] { 10, 20, 300, 400, 500, 100 } },
    };

    /// <summary>A drop-off in which nothing is missing; rust is worse than assumed.</summary>
    public static object DropOff { get; } = new
    {
        facts = new
        {
            energy = "petrol",
            airbags = "front",
            rearSeatsUsed = false,
        },
        odometerKm = 81_000,
        warningLights = Array.Empty<string>(),
        fuelPercent = 25,
        keys = 2,
        keysNote = "Board 3",
        conditionFound = new { rust = "heavy" },
        staysFitted = new[] { "Roof lining" },
        inTheCar = new[] { "Child seat" },
        battery = "good",
        photoConsent = "withoutPlates",
        note = "Collects on Friday",
    };

    public static byte[] Jpeg { get; } = TestPictures.Encoded(640, 480, SKEncodedImageFormat.Jpeg);

    /// <summary>A customer with car and an open job.</summary>
    public static async Task<(string Job, string Customer, string Car)> OpenJobAsync(
        HttpClient desk,
        string name = "Ada Kremer"
    )
    {
        var (quote, customer, car) = await AcceptedQuoteAsync(desk, name);
        var job = await desk.PostAsync("/api/v1/jobs", new { quoteId = quote });
        return (job.Text("id"), customer, car);
    }

    /// <summary>A customer with car and a job on which nothing is left to do: entered as half built with everything done yesterday.</summary>
    public static async Task<(string Job, string Customer, string Car)> OpenDoneJobAsync(HttpClient desk, string name)
    {
        var (twin, _, _) = await OpenJobAsync(desk);
        var codes = (await desk.GetJsonAsync($"/api/v1/jobs/{twin}"))
            .GetProperty("operations")
            .EnumerateArray()
            .Select(o => new { code = o.Text("code"), doneOn = "2026-05-05" });
        var (quote, customer, car) = await AcceptedQuoteAsync(desk, name);
        var job = await desk.PostAsync("/api/v1/jobs/half-built", new { quoteId = quote, done = codes });
        return (job.Text("id"), customer, car);
    }

    private static async Task<(string Quote, string Customer, string Car)> AcceptedQuoteAsync(
        HttpClient desk,
        string name
    )
    {
        var customer = (await desk.PostAsync("/api/v1/customers", new { name })).Text("id");
        var car = (
            await desk.PostAsync(
                "/api/v1/cars",
                new
                {
                    customerId = customer,
                    make = "Corvane",
                    model = "Lynx",
                    modelYear = 2004,
                    registration = "NB 04 LYX",
                }
            )
        ).Text("id");
        var quote = await desk.PostAsync(
            "/api/v1/quotes",
            QuoteStory.Request((Guid.Parse(customer), Guid.Parse(car)), new { rust = "light" })
        );
        var path = $"/api/v1/quotes/{quote.Text("id")}";
        var sent = await desk.PostAsync($"{path}/send", null, 200);
        await desk.PostAsync($"{path}/accept", new { acceptedBy = name, contentHash = sent.Text("contentHash") }, 200);
        return (quote.Text("id"), customer, car);
    }

    public static async Task<JsonElement> PutAsync(this HttpClient api, string path, object body, int expected = 200)
    {
        using var response = await api.SendAsync(HttpMethod.Put, path, body);
        return await response.JsonAsync(expected);
    }

    public static async Task<JsonElement> RemoveAsync(this HttpClient api, string path, int expected = 200)
    {
        using var response = await api.SendAsync(HttpMethod.Delete, path);
        return await response.JsonAsync(expected);
    }

    public static async Task<JsonElement> UploadAsync(
        this HttpClient api,
        string path,
        byte[] file,
        int expected = 201,
        string name = "photo.jpg",
        string? key = null,
        params (string Name, string Value)[] fields
    )
    {
        using var form = Form(file, name, fields);
        using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = form };
        if (key is not null)
        {
            request.Headers.Add("Idempotency-Key", key);
        }

        using var response = await api.SendAsync(request, Ct);
        return await response.JsonAsync(expected);
    }

    public static MultipartFormDataContent Form(byte[] file, string name, params (string Name, string Value)[] fields)
    {
        var part = new ByteArrayContent(file);
        part.Headers.ContentType = new MediaTypeHeaderValue("image/jpeg");
        var form = new MultipartFormDataContent { { part, "file", name } };
        foreach (var field in fields)
        {
            form.Add(new StringContent(field.Value), field.Name);
        }

        return form;
    }

    public static string ErrorPath(this JsonElement problem) =>
        problem.GetProperty("errors").EnumerateObject().First().Name;
}
