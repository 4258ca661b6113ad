using System.Security.Claims;
using Bunit;
using MudBlazor;
using MudBlazor.Services;
using ShopFloor.Application.Accounts;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.MoneyReports;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Accounts;

/// <summary>Counting a day as a component, on the program's own services.</summary>
public sealed class CloseDayFormTests : BunitContext, IClassFixture<SqliteShop>
{
    private readonly SqliteShop shop;

    public CloseDayFormTests(SqliteShop shop)
    {
        this.shop = shop;
        System.Globalization.CultureInfo.CurrentCulture = System.Globalization.CultureInfo.InvariantCulture;
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddMudServices();
        Services.AddFallbackServiceProvider(new OwnServices(shop.Services));
        var auth = AddAuthorization();
        auth.SetAuthorized("Owner Person");
        auth.SetRoles(nameof(Role.Owner));
        auth.SetClaims(new Claim(ClaimTypes.NameIdentifier, shop.People[Role.Owner].ToString()));
        SetRendererInfo(new("Server", true));
        Render<MudPopoverProvider>();
    }

    [Fact]
    public void A_count_that_cannot_be_read_closes_no_day()
    {
        var day = DateOnly.FromDateTime(shop.Clock.GetUtcNow().UtcDateTime).AddDays(-3);
        DayView? closed = null;
        var view = new DayView(
            day,
            "EUR",
            null,
            null,
            [new DayMethodView(PaymentMethod.Cash, 0, null, null, null)],
            [],
            []
        );
        var form = Render<CloseDayForm>(p => p.Add(x => x.Day, view).Add(x => x.OnClosed, d => closed = d));

        form.Find("#counted-Cash").Input("0");
        form.Find("#counted-Cash").Input("0.0.0");
        Click("Close this day");
        Assert.DoesNotContain("Close this day for good", form.Markup, StringComparison.Ordinal);

        form.Find("#counted-Cash").Input("0");
        Click("Close this day");
        form.Find("#counted-Cash").Input("nought");
        Click("Close this day for good");
        Assert.Null(closed);

        form.Find("#counted-Cash").Input("0");
        Click("Close this day for good");
        form.WaitForAssertion(() => Assert.NotNull(closed));
        Assert.NotNull(closed!.ClosedAt);

        void Click(string text) => form.FindAll("button").Single(b => b.TextContent.Trim() == text).Click();
    }
}
