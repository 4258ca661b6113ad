using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Data;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;
using UglyToad.PdfPig;

namespace ShopFloor.Web.Tests.Accounts;

/// <summary>What tests of money begin with: a job whose quote was accepted.</summary>
internal static class JobStory
{
    public static async Task<(string Job, JsonElement Quote)> OpenJobAsync(
        ShopHost shop,
        HttpClient api,
        string name,
        string registration,
        long? tradeCreditMinor = null,
        string? taxExemption = null
    )
    {
        var who = await QuoteStory.CustomerWithCarAsync(shop, name, registration, taxExemption: taxExemption);
        var draft = await api.PostAsync("/api/v1/quotes", QuoteStory.Request(who, tradeCreditMinor: tradeCreditMinor));
        var path = $"/api/v1/quotes/{draft.Text("id")}";
        var hash = (await api.PostAsync(path + "/send", new { }, 200)).Text("contentHash");
        var accepted = await api.PostAsync(path + "/accept", new { acceptedBy = name, contentHash = hash }, 200);
        var job = await api.PostAsync("/api/v1/jobs", new { quoteId = draft.Text("id") });
        return (job.Text("id"), accepted);
    }

    public static async Task<string> PdfTextAsync(HttpClient api, string path)
    {
        using var response = await api.GetAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal("application/pdf", response.Content.Headers.ContentType?.MediaType);
        using var pdf = PdfDocument.Open(
            await response.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken)
        );
        return string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
    }

    /// <summary>What the check of all stored money says.</summary>
    public static Task<IReadOnlyList<string>> VerifyAsync(ShopHost shop) =>
        shop.WithAsync<IDbContextFactory<ShopDbContext>, IReadOnlyList<string>>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync();
            return await new MoneyVerifier().VerifyAsync(db, CancellationToken.None);
        });
}
