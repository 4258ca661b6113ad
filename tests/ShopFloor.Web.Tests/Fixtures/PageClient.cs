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
        // The shop's clock is not the test machine's: a cookie jar would throw its cookies away.
        var client = shop.CreateClient(
            new WebApplicationFactoryClientOptions { AllowAutoRedirect = false, HandleCookies = false }
        );
        using var answer = await client.SignInAsync($"{role}@shop.example".ToLowerInvariant(), ShopHost.Password);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        KeepCookies(client, answer);
        return client;
    }

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
        var html = await client.PageAsync(page);
        using var form = new FormUrlEncodedContent([
            new("__RequestVerificationToken", Token().Match(html).Groups[1].Value),
            .. fields.Select(f => KeyValuePair.Create(f.Name, f.Value)),
        ]);
        using var answer = await client.PostAsync(new Uri(action, UriKind.Relative), form, Ct);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        return await client.PageAsync(answer.Headers.Location!.OriginalString.Split('#')[0]);
    }

    /// <summary>The page as HTML.</summary>
    public static async Task<string> PageAsync(this HttpClient client, string path)
    {
        using var answer = await client.GetAsync(new Uri(path, UriKind.Relative), Ct);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        if (answer.Headers.Contains("Set-Cookie"))
        {
            KeepCookies(client, answer);
        }

        return WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(Ct));
    }

    private static void KeepCookies(HttpClient client, HttpResponseMessage response)
    {
        foreach (var cookie in response.Headers.GetValues("Set-Cookie"))
        {
            client.DefaultRequestHeaders.Add("Cookie", cookie.Split(';')[0]);
        }
    }

    [GeneratedRegex("name=\"__RequestVerificationToken\" value=\"([^\"]+)\"")]
    private static partial Regex Token();
}
