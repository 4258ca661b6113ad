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
