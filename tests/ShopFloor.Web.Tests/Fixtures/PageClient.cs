using System.Net;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Mvc.Testing;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Tests.Fixtures;

/// <summary>A client that signs in by the form, as a browser without script would.</summary>
public static partial class PageClient
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    /// <summary>A client with the cookie of the person who has this role.</summary>
    public static async Task<HttpClient> SignedInAsync(this ShopHost shop, Role role)
    {
        var client = shop.NewBrowser();
        using var answer = await client.SignInAsync($"{role}@shop.example".ToLowerInvariant(), ShopHost.Password);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        KeepCookies(client, answer);
        return client;
    }

    /// <summary>A browser that nobody has used yet.</summary>
    public static HttpClient NewBrowser(this ShopHost shop) =>
        // The shop's clock is not the test machine's: a cookie jar would throw its cookies away.
        shop.CreateClient(new WebApplicationFactoryClientOptions { AllowAutoRedirect = false, HandleCookies = false });

    /// <summary>Fills in the form of the sign-in page; what the program answers.</summary>
    public static async Task<HttpResponseMessage> SignInAsync(this HttpClient client, string email, string password)
    {
        client.DefaultRequestHeaders.Remove("Cookie");
        using var opened = await client.GetAsync(new Uri("/sign-in", UriKind.Relative), Ct);
        KeepCookies(client, opened);
        var page = await opened.Content.ReadAsStringAsync(Ct);
        using var form = new FormUrlEncodedContent([
            new("__RequestVerificationToken", Token().Match(page).Groups[1].Value),
            new("_handler", "sign-in"),
            new("Input.Email", email),
            new("Input.Password", password),
        ]);
        return await client.PostAsync(new Uri("/sign-in", UriKind.Relative), form, Ct);
    }

    /// <summary>Sends a form of a page with that page's token; the page that the answer leads to.</summary>
    public static async Task<string> SubmitAsync(
        this HttpClient client,
        string page,
        string action,
        params (string Name, string Value)[] fields
    )
    {
        using var answer = await client.SendFormAsync(page, action, fields);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        return await client.PageAsync(answer.Headers.Location!.OriginalString.Split('#')[0]);
    }

    /// <summary>Sends a form of a page with that page's token; the page that is answered at once.</summary>
    public static async Task<string> PostFormAsync(
        this HttpClient client,
        string page,
        string action,
        params (string Name, string Value)[] fields
    )
    {
        using var answer = await client.SendFormAsync(page, action, fields);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        client.TakeCookies(answer);
        return WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(Ct));
    }

    /// <summary>Sends a form of a page with that page's token.</summary>
    public static async Task<HttpResponseMessage> SendFormAsync(
        this HttpClient client,
        string page,
        string action,
        params (string Name, string Value)[] fields
    )
    {
        var html = await client.PageAsync(page);
        using var form = new FormUrlEncodedContent([
            new("__RequestVerificationToken", Token().Match(html).Groups[1].Value),
            .. fields.Select(f => KeyValuePair.Create(f.Name, f.Value)),
        ]);
        var answer = await client.PostAsync(new Uri(action, UriKind.Relative), form, Ct);
        client.TakeCookies(answer);
        return answer;
    }

    /// <summary>Keeps the cookies of an answer that has any.</summary>
    public static void TakeCookies(this HttpClient client, HttpResponseMessage response)
    {
        if (response.Headers.Contains("Set-Cookie"))
        {
            KeepCookies(client, response);
        }
    }

    /// <summary>The page as HTML.</summary>
    public static async Task<string> PageAsync(this HttpClient client, string path)
    {
        using var answer = await client.GetAsync(new Uri(path, UriKind.Relative), Ct);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        client.TakeCookies(answer);
        return WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(Ct));
    }

    private static void KeepCookies(HttpClient client, HttpResponseMessage response)
    {
        var held = client.DefaultRequestHeaders.TryGetValues("Cookie", out var before)
            ? before.SelectMany(c => c.Split("; ")).ToDictionary(c => c.Split('=')[0], c => c, StringComparer.Ordinal)
            : [];
        foreach (var cookie in response.Headers.GetValues("Set-Cookie"))
        {
            var pair = cookie.Split(';')[0];
            held[pair.Split('=')[0]] = pair;
        }

        client.DefaultRequestHeaders.Remove("Cookie");
        client.DefaultRequestHeaders.Add("Cookie", string.Join("; ", held.Values));
    }

    [GeneratedRegex("name=\"__RequestVerificationToken\" value=\"([^\"]+)\"")]
    private static partial Regex Token();
}
