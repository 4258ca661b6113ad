using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using MimeKit;
using ShopFloor.Application.Messages;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Messages;

/// <summary>A customer with an e-mail address, and what happens to them.</summary>
internal sealed class MailStory
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    public HttpClient Desk { get; private set; } = null!;
    public HttpClient Owner { get; private set; } = null!;
    public string Address { get; private set; } = "";
    public string Customer { get; private set; } = "";
    public string Quote { get; private set; } = "";
    public string Job { get; private set; } = "";
    public string JobPath => $"/api/v1/jobs/{Job}";

    /// <summary>A customer with a car and a quote that was sent.</summary>
    public static async Task<MailStory> QuotedAsync(
        HttpClient desk,
        HttpClient owner,
        string language = "en",
        string name = "Alva Penrose"
    )
    {
        var story = new MailStory
        {
            Desk = desk,
            Owner = owner,
            Address = $"c{Guid.CreateVersion7():N}@customer.example",
        };
        story.Customer = (
            await desk.PostAsync(
                "/api/v1/customers",
                new
                {
                    name,
                    email = story.Address,
                    language,
                }
            )
        ).Text("id");
        var car = (
            await desk.PostAsync(
                "/api/v1/cars",
                new
                {
                    customerId = story.Customer,
                    make = "Corvane",
                    model = "Lynx",
                    modelYear = 2004,
                }
            )
        ).Text("id");
        var request = QuoteStory.Request((Guid.Parse(story.Customer), Guid.Parse(car)), new { rust = "light" });
        story.Quote = (await desk.PostAsync("/api/v1/quotes", request)).Text("id");
        await desk.PostAsync($"/api/v1/quotes/{story.Quote}/send", null, 200);
        return story;
    }

    public static async Task<MailStory> QuotedAsync(
        ShopHost shop,
        string language = "en",
        string name = "Alva Penrose"
    ) => await QuotedAsync(await shop.ApiAsync(Role.FrontDesk), await shop.ApiAsync(Role.Owner), language, name);

    public async Task AcceptAsync()
    {
        var hash = (await Desk.GetJsonAsync($"/api/v1/quotes/{Quote}")).Text("contentHash");
        await Desk.PostAsync(
            $"/api/v1/quotes/{Quote}/accept",
            new { acceptedBy = "Alva Penrose", contentHash = hash },
            200
        );
        Job = (await Desk.PostAsync("/api/v1/jobs", new { quoteId = Quote })).Text("id");
    }

    public Task AppointAsync(string day, string? time) =>
        Desk.PutAsync($"{JobPath}/drop-off-appointment", new { day, time });

    /// <summary>The newest message of a kind about this customer's job or quote.</summary>
    public async Task<JsonElement> MessageAsync(string kind)
    {
        var list = Job.Length > 0 ? $"{JobPath}/messages" : "/api/v1/messages?pageSize=200";
        return (await Desk.GetJsonAsync(list)).GetProperty("items").EnumerateArray().First(m => m.Text("kind") == kind);
    }

    public static Task<int> SendAsync(ShopHost shop) => shop.WithAsync<SendMessages, int>(s => s.RunOnceAsync(Ct));

    public static Task<OutboxMessage> RowAsync(ShopHost shop, string id) =>
        shop.WithAsync<IDbContextFactory<ShopDbContext>, OutboxMessage>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync(Ct);
            return await db.Set<OutboxMessage>().SingleAsync(m => m.Id == new OutboxMessageId(Guid.Parse(id)), Ct);
        });

    /// <summary>Everything of a mail that can be read: headers, both texts, names of attachments.</summary>
    public static string WordsOf(MimeMessage mail) =>
        string.Join('\n', mail.Headers.Select(h => h.ToString()).Append(mail.TextBody).Append(mail.HtmlBody));
}
