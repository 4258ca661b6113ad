using System.Net.Http.Json;
using System.Text.Json;

namespace ShopFloor.Web.Tests.Fixtures;

/// <summary>Short words for API calls in tests.</summary>
public static class Http
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    public static async Task<HttpResponseMessage> SendAsync(
        this HttpClient client,
        HttpMethod method,
        string path,
        object? body = null,
        string? key = null,
        long? ifMatch = null
    )
    {
        using var request = new HttpRequestMessage(method, path)
        {
            Content = body is null ? null : JsonContent.Create(body),
        };
        if (key is not null)
        {
            request.Headers.Add("Idempotency-Key", key);
        }

        if (ifMatch is not null)
        {
            request.Headers.TryAddWithoutValidation("If-Match", $"\"{ifMatch}\"");
        }

        return await client.SendAsync(request, Ct);
    }

    /// <summary>Posts and expects a status; the answer's JSON.</summary>
    public static async Task<JsonElement> PostAsync(
        this HttpClient client,
        string path,
        object? body,
        int expected = 201,
        string? key = null
    )
    {
        using var response = await client.SendAsync(HttpMethod.Post, path, body, key);
        return await JsonAsync(response, expected);
    }

    public static async Task<JsonElement> GetJsonAsync(this HttpClient client, string path, int expected = 200)
    {
        using var response = await client.GetAsync(path, Ct);
        return await JsonAsync(response, expected);
    }

    public static async Task<JsonElement> JsonAsync(this HttpResponseMessage response, int expected)
    {
        var text = await response.Content.ReadAsStringAsync(Ct);
        Assert.True((int)response.StatusCode == expected, $"{(int)response.StatusCode} instead of {expected}: {text}");
        return text.Length == 0 ? default : JsonSerializer.Deserialize<JsonElement>(text);
    }
}
