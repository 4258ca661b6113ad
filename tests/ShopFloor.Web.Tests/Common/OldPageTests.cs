using System.Net;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Mvc.Testing;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Common;

/// <summary>Forms of pages that were open too long, and bodies that cannot be read: the person gets a sentence, never an empty or failed page.</summary>
public sealed partial class OldPageTests(SqliteShop shop) : IClassFixture<SqliteShop>
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("/sign-out")]
    [InlineData("/inspection/01a1a14c-61e0-7982-b250-00258991830a/readings")]
    [InlineData("/inspection/01a1a14c-61e0-7982-b250-00258991830a/sign-off")]
    [InlineData("/sign-in")]
    public async Task Form_with_an_old_token_is_answered_by_a_page_that_leads_back(string path)
    {
        using var client = await SignedInAsync(Role.Inspector);
        using var request = new HttpRequestMessage(HttpMethod.Post, path)
        {
            Content = new FormUrlEncodedContent([new("__RequestVerificationToken", "old"), new("_handler", "sign-in")]),
        };
        request.Headers.Referrer = new Uri("https://elsewhere.example/floor?x=1");

        using var response = await client.SendAsync(request, Ct);

        var page = await response.Content.ReadAsStringAsync(Ct);
        Assert.Equal(HttpStatusCode.BadRequest, response.StatusCode);
        Assert.Contains("This page is old", page, StringComparison.Ordinal);
        Assert.Contains("href=\"/floor?x=1\"", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Reading_whose_form_is_cut_off_is_refused_for_good_and_not_to_be_sent_again()
    {
        using var client = await SignedInAsync(Role.Inspector);
        var session = await client.GetJsonAsync("/floor/session");
        using var request = new HttpRequestMessage(
            HttpMethod.Post,
            "/inspection/01a1a14c-61e0-7982-b250-00258991830a/readings/kept"
        )
        {
            Content = new StringContent("--b\r\nContent-Dispo"),
        };
        request.Content.Headers.Remove("Content-Type");
        request.Content.Headers.TryAddWithoutValidation("Content-Type", "multipart/form-data; boundary=b");
        request.Headers.Add("X-CSRF-TOKEN", session.GetProperty("token").GetString());

        using var response = await client.SendAsync(request, Ct);

        var problem = await response.JsonAsync(400);
        Assert.True(problem.GetProperty("errors").TryGetProperty("photo", out _));
    }

    private async Task<HttpClient> SignedInAsync(Role role)
    {
        // The shop's clock is not the test machine's: a cookie jar would throw its cookies away.
        var client = shop.CreateClient(
            new WebApplicationFactoryClientOptions { AllowAutoRedirect = false, HandleCookies = false }
        );
        using var opened = await client.GetAsync(new Uri("/sign-in", UriKind.Relative), Ct);
        KeepCookies(client, opened);
        var page = await opened.Content.ReadAsStringAsync(Ct);
        using var form = new FormUrlEncodedContent([
            new("__RequestVerificationToken", Token().Match(page).Groups[1].Value),
            new("_handler", "sign-in"),
            new("Input.Email", $"{role}@shop.example".ToLowerInvariant()),
            new("Input.Password", ShopHost.Password),
        ]);
        using var answer = await client.PostAsync(new Uri("/sign-in", UriKind.Relative), form, Ct);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        KeepCookies(client, answer);
        return client;
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
