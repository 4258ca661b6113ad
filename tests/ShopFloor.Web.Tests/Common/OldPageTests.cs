using System.Net;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Common;

/// <summary>Forms of pages that were open too long, and bodies that cannot be read: the person gets a sentence, never an empty or failed page.</summary>
public sealed class OldPageTests(SqliteShop shop) : IClassFixture<SqliteShop>
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("/sign-out")]
    [InlineData("/inspection/01a1a14c-61e0-7982-b250-00258991830a/readings")]
    [InlineData("/inspection/01a1a14c-61e0-7982-b250-00258991830a/sign-off")]
    [InlineData("/sign-in")]
    public async Task Form_with_an_old_token_is_answered_by_a_page_that_leads_back(string path)
    {
        using var client = await shop.SignedInAsync(Role.Inspector);
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
        using var client = await shop.SignedInAsync(Role.Inspector);
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
}
