using MimeKit;
using ShopFloor.Application.Messages;
using ShopFloor.Domain.Messages;
using ShopFloor.Web.Tests.Changes;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Messages;

/// <summary>One car, every kind of message, through a real SMTP server: each goes out once, and what the shop keeps for itself stands in none of them.</summary>
public abstract class EveryMessageTests(ShopHost shop)
{
    private const string Inside = "INSIDE-7f3a";

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Every_kind_goes_out_and_nothing_internal_stands_in_any()
    {
        await using var server = new MailCatcher();
        // The first is only sent while the offer is open.
        var quoted = await MailStory.QuotedAsync(shop);
        await quoted.Owner.PutAsync("/api/v1/shop/mail", server.Settings());
        await MailStory.SendAsync(shop);
        await quoted.AcceptAsync();
        await MailStory.SendAsync(shop);

        var car = await CarStory.BeginAsync(shop, "Ada Kremer", isSigned: false);
        var address = $"c{Guid.CreateVersion7():N}@customer.example";
        var customer = (await car.JobAsync()).Text("customerId");
        await car.Desk.PutAsync($"/api/v1/customers/{customer}", new { name = "Ada Kremer", email = address });
        await car.Desk.PutAsync(
            $"{car.JobPath}/drop-off-appointment",
            new { day = $"{Today.AddDays(1):yyyy-MM-dd}", time = "08:30" }
        );
        await MailStory.SendAsync(shop);
        await PartIsMissedAsync(car);
        await car.SignAsync();
        await car.Fabricator.PostAsync(
            $"{car.JobPath}/operations/10/hold",
            new { reason = "defectFound", note = $"{Inside} rust" },
            200
        );
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/10/resume", new { }, 200);
        var change = await ChangeIsOfferedAsync(car);
        await PromiseIsMovedAsync(car, change);
        await car.WorkUntilAsync();
        await car.Desk.PostAsync($"{car.JobPath}/invoices", new { });
        await MailStory.SendAsync(shop);
        await car.SignOffAsync(new { note = $"{Inside} looked at twice" });
        await MailStory.SendAsync(shop);
        await car.Desk.PutAsync(
            $"{car.JobPath}/collection-appointment",
            new { day = $"{Today.AddDays(1):yyyy-MM-dd}", time = "16:00" }
        );
        await MailStory.SendAsync(shop);
        var around = (await car.Desk.GetJsonAsync($"{car.JobPath}/photos?kind=walkRound"))
            .GetProperty("items")
            .EnumerateArray()
            .Select(p => new { intakePhotoId = p.Text("id"), isSame = true })
            .ToList();
        await car.Desk.PostAsync(
            $"{car.JobPath}/hand-over",
            new
            {
                odometerKm = 120_010,
                warningLights = Array.Empty<string>(),
                keysReturned = 2,
                looks = around,
                note = $"{Inside} pays late",
                signature = IntakeStory.Drawn,
            },
            200
        );
        await MailStory.SendAsync(shop);

        var sent = (await car.Desk.GetJsonAsync($"{car.JobPath}/messages?pageSize=200"))
            .GetProperty("items")
            .EnumerateArray()
            .Where(m => m.Text("state") == "sent")
            .Select(m => m.Text("kind"))
            .ToList();
        Assert.Equal(MessageKinds.All.Where(k => k != MessageKind.QuoteSent).Select(Word).Order(), sent.Order());
        var mails = server.To(address).Concat(server.To(quoted.Address)).ToList();
        Assert.Equal(sent.Count + 2, mails.Count);
        Assert.Equal(mails.Count, mails.Select(m => m.MessageId).Distinct().Count());
        Assert.All(mails, AssertNothingInternal);
    }

    private DateOnly Today => DateOnly.FromDateTime(shop.Clock.GetUtcNow().DateTime);

    private async Task PartIsMissedAsync(CarStory car)
    {
        await car.Desk.PostAsync(
            $"{car.JobPath}/customer-parts",
            new
            {
                what = "Door panels",
                code = "door-panels",
                dueOn = Today.AddDays(1),
                note = $"{Inside} cheap ones",
            }
        );
        shop.Clock.Advance(TimeSpan.FromDays(3));
        await shop.WithAsync<MissCustomerParts, int>(m => m.RunOnceAsync(Ct));
        await MailStory.SendAsync(shop);
        var part = (await car.Desk.GetJsonAsync($"{car.JobPath}/customer-parts"))
            .GetProperty("items")
            .EnumerateArray()
            .Single();
        await car.Desk.PostAsync($"/api/v1/customer-parts/{part.Text("id")}/arrive", new { }, 200);
    }

    private static async Task<string> ChangeIsOfferedAsync(CarStory car)
    {
        var change = await car.Desk.PostAsync($"{car.JobPath}/change-orders", ChangeStory.FurtherPlate());
        await car.Desk.PostAsync($"/api/v1/change-orders/{change.Text("id")}/offer", new { }, 200);
        return change.Text("id");
    }

    private async Task PromiseIsMovedAsync(CarStory car, string change)
    {
        await MailStory.SendAsync(shop);
        await car.Desk.PostAsync($"/api/v1/change-orders/{change}/decline", new { reason = "Too dear" }, 200);
        // Of two moves that wait, the newer one is told.
        foreach (var days in new[] { 40, 45 })
        {
            shop.Clock.Advance(TimeSpan.FromSeconds(1));
            await car.Desk.PostAsync(
                $"{car.JobPath}/promise",
                new { promisedOn = $"{Today.AddDays(days):yyyy-MM-dd}", reason = $"{Inside} die broken" },
                200
            );
        }

        await MailStory.SendAsync(shop);
    }

    private static void AssertNothingInternal(MimeMessage mail)
    {
        var words = MailStory.WordsOf(mail);
        foreach (
            var inside in new[]
            {
                Inside,
                "Person",
                "Other Fabricator",
                "With the bench's own gauge",
                "Not written down",
                "@shop.example",
            }
        )
        {
            Assert.DoesNotContain(inside, words, StringComparison.Ordinal);
        }
    }

    private static string Word(MessageKind kind) => char.ToLowerInvariant(kind.ToString()[0]) + kind.ToString()[1..];
}

public sealed class EveryMessageOnSqlite(SqliteShop shop) : EveryMessageTests(shop), IClassFixture<SqliteShop>;

public sealed class EveryMessageOnPostgres(PostgresShop shop) : EveryMessageTests(shop), IClassFixture<PostgresShop>;
