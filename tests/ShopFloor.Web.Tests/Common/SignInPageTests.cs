using System.Net;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Mvc.Testing;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Common;

public sealed partial class SignInPageTests(SqliteShop shop) : IClassFixture<SqliteShop>
{
    private const int MoreThanAllowed = 9;

    [Fact]
    public async Task Many_wrong_tries_never_tell_whether_an_address_is_known_here()
    {
        var known = await AnswersAsync("other@shop.example");
        var unknown = await AnswersAsync("nobody@shop.example");

        Assert.Equal(MoreThanAllowed, known.Count);
        Assert.All(known, answer => Assert.Contains("do not belong together", answer, StringComparison.Ordinal));
        Assert.Equal(unknown, known);

        // Locked meanwhile: the right password is not let in either, and the sentence says what to do.
        using var client = Client();
        using var locked = await client.SignInAsync("other@shop.example", ShopHost.Password);
        Assert.Equal(known[0], await ProblemAsync(locked));
        Assert.Contains("ten minutes", known[0], StringComparison.Ordinal);
    }

    private async Task<List<string>> AnswersAsync(string email)
    {
        using var client = Client();
        var answers = new List<string>();
        for (var i = 0; i < MoreThanAllowed; i++)
        {
            using var answer = await client.SignInAsync(email, "wrong horse battery");
            answers.Add(await ProblemAsync(answer));
        }

        return answers;
    }

    private HttpClient Client() =>
        shop.CreateClient(new WebApplicationFactoryClientOptions { AllowAutoRedirect = false, HandleCookies = false });

    private static async Task<string> ProblemAsync(HttpResponseMessage answer)
    {
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        var page = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        return Problem().Match(page).Groups[1].Value;
    }

    [GeneratedRegex("<p class=\"problem\" role=\"alert\">([^<]*)</p>")]
    private static partial Regex Problem();
}
