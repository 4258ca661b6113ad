using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Changes;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Decisions;

/// <summary>Times that customers confirm, or do not.</summary>
public abstract partial class DecisionApiTests
{
    [Fact]
    public async Task A_time_is_confirmed_by_name_for_exactly_what_was_shown_and_moving_it_asks_again()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var phone = Phone();
        var (job, _) = await ChangeStory.SignedJobAsync(desk);
        var collection = $"{Api}/jobs/{job}/collection-appointment";
        var today = await TodayAsync(desk);
        var agreed = await desk.PutAsync(collection, new { day = $"{today.AddDays(5):yyyy-MM-dd}", time = "16:30" });
        var link = await LinkAsync(desk, "appointment", agreed.Text("id"));
        var page = await PageAsync(phone, link);
        Assert.Contains("16:30", page, StringComparison.Ordinal);
        var shown = Hidden().Match(page).Groups[1].Value;
        await AnswerAsync(phone, link, 400, ("do", "accept"), ("choice", shown), ("name", " "));

        await desk.PutAsync(collection, new { day = $"{today.AddDays(6):yyyy-MM-dd}", time = "09:00" });
        var moved = await AnswerAsync(phone, link, 409, ("do", "accept"), ("choice", shown), ("name", "Mina"));
        Assert.Contains("was changed after you opened", moved, StringComparison.Ordinal);
        Assert.Contains("09:00", moved, StringComparison.Ordinal);
        Assert.False(
            (await desk.GetJsonAsync(collection)).TryGetProperty("answer", out var none)
                && none.ValueKind == System.Text.Json.JsonValueKind.String
        );

        var now = Hidden().Match(await PageAsync(phone, link)).Groups[1].Value;
        await AnswerAsync(phone, link, 302, ("do", "accept"), ("choice", now), ("name", "Mina Okafor"));
        var confirmed = await desk.GetJsonAsync(collection);
        Assert.Equal(("confirmed", "Mina Okafor"), (confirmed.Text("answer"), confirmed.Text("confirmedBy")));
        Assert.Contains("We expect you then", await PageAsync(phone, link), StringComparison.Ordinal);
        await AnswerAsync(phone, link, 409, ("do", "tell"), ("choice", now), ("text", "Rather not"));
        Assert.Equal(
            ActorKind.Link,
            (await EventAsync("appointment.answered", Guid.Parse(agreed.Text("id")))).ActorKind
        );

        // Moved again, it waits for a new yes: the old answer is no answer to the new time.
        var moves = await desk.PutAsync(collection, new { day = $"{today.AddDays(7):yyyy-MM-dd}" });
        Assert.Equal("open", Assert.Single(await CollectionsAsync(desk, job)).Text("standing"));
        var old = await PageAsync(phone, link);
        Assert.Contains("changed after your answer", old, StringComparison.Ordinal);
        Assert.DoesNotContain("We expect you then", old, StringComparison.Ordinal);

        // The customer says so on the telephone, once, to the time that the desk sees.
        using (
            var stale = await desk.SendAsync(
                HttpMethod.Post,
                $"{collection}/confirm",
                ifMatch: moves.GetProperty("version").GetInt64() - 1
            )
        )
        {
            Assert.Equal(System.Net.HttpStatusCode.Conflict, stale.StatusCode);
        }

        await desk.PostAsync($"{collection}/confirm", null, 200);
        await desk.PostAsync($"{collection}/confirm", null, 200);
        Assert.Equal("confirmed", Assert.Single(await CollectionsAsync(desk, job)).Text("standing"));
    }

    [Fact]
    public async Task Another_time_is_asked_for_in_words_that_wait_at_the_desk()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var phone = Phone();
        var (job, _) = await ChangeStory.SignedJobAsync(desk);
        var today = await TodayAsync(desk);
        var agreed = await desk.PutAsync(
            $"{Api}/jobs/{job}/collection-appointment",
            new { day = $"{today.AddDays(5):yyyy-MM-dd}" }
        );
        var link = await LinkAsync(desk, "appointment", agreed.Text("id"));
        var shown = Hidden().Match(await PageAsync(phone, link)).Groups[1].Value;
        var blank = await AnswerAsync(phone, link, 400, ("do", "tell"), ("choice", shown), ("text", " "));
        Assert.Contains("which days and times", blank, StringComparison.Ordinal);
        var words = $"Only after four, or Saturday {job}";
        await AnswerAsync(phone, link, 302, ("do", "tell"), ("choice", shown), ("text", words));

        Assert.Equal(job, Word(await desk.GetJsonAsync($"{Api}/customer-words"), words).Text("jobId"));
        Assert.Equal("otherAsked", Assert.Single(await CollectionsAsync(desk, job)).Text("standing"));
        var calls = (await desk.GetJsonAsync($"{Api}/diary")).GetProperty("calls").EnumerateArray();
        Assert.Contains(calls, c => c.Text("job") == job && c.Text("reason") == "otherTimeAsked");
    }

    [Fact]
    public async Task A_car_that_is_here_has_no_drop_off_to_agree_on_or_confirm()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var phone = Phone();
        var car = await Features.Inspection.CarStory.BeginAsync(shop, "Iben Holm", isSigned: false);
        var today = await TodayAsync(desk);
        var path = $"{car.JobPath}/drop-off-appointment";
        await desk.PutAsync(path, new { day = $"{today.AddDays(-1):yyyy-MM-dd}" }, 400);
        await desk.PutAsync(path, new { day = $"{today.AddDays(2):yyyy-MM-dd}", time = "8 o'clock" }, 400);
        var agreed = await desk.PutAsync(path, new { day = $"{today.AddDays(2):yyyy-MM-dd}", time = "08:30" });
        var link = await LinkAsync(desk, "appointment", agreed.Text("id"));
        var shown = Hidden().Match(await PageAsync(phone, link)).Groups[1].Value;
        await desk.PutAsync($"{car.JobPath}/drop-off", IntakeStory.DropOff);

        Assert.Contains("is here already", await PageAsync(phone, link), StringComparison.Ordinal);
        await AnswerAsync(phone, link, 409, ("do", "accept"), ("choice", shown), ("name", "Iben Holm"));
        Assert.Equal(
            "hasCome",
            (await desk.PutAsync(path, new { day = $"{today.AddDays(3):yyyy-MM-dd}" }, 409)).ReasonCode()
        );
        var refused = await desk.PostAsync(
            $"{Api}/decision-links",
            new { kind = "appointment", subjects = new[] { agreed.Text("id") } },
            409
        );
        Assert.Equal("over", refused.ReasonCode());
        Assert.Equal("over", (await desk.PostAsync($"{path}/confirm", null, 409)).ReasonCode());
    }

    private static async Task<DateOnly> TodayAsync(HttpClient desk) =>
        DateOnly.Parse(
            (await desk.GetJsonAsync($"{Api}/diary?days=1")).Text("today"),
            System.Globalization.CultureInfo.InvariantCulture
        );

    private static async Task<IReadOnlyList<System.Text.Json.JsonElement>> CollectionsAsync(
        HttpClient desk,
        string job
    ) =>
        [
            .. (await desk.GetJsonAsync($"{Api}/diary"))
                .GetProperty("days")
                .EnumerateArray()
                .SelectMany(d => d.GetProperty("lines").EnumerateArray())
                .Where(l => l.GetProperty("job").ToString() == job && l.Text("matter") == "collection"),
        ];
}
