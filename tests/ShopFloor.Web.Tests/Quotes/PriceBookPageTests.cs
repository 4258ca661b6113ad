using System.Security.Claims;
using Bunit;
using Microsoft.AspNetCore.Components.Forms;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor;
using MudBlazor.Services;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.PriceBook;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Quotes;

/// <summary>The price book page on the program's own services.</summary>
public sealed class PriceBookPageTests(SqliteShop shop) : BunitContext, IClassFixture<SqliteShop>
{
    [Fact]
    public async Task Owner_adopts_a_changed_file_as_the_next_edition()
    {
        var page = Show(Role.Owner);
        var book = await BookAsync();
        var changed = PriceBookFile.Write(book with { ValidityDays = 11 });

        page.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromText(changed, "price-book.json"));

        page.WaitForAssertion(() => Assert.Contains("valid for 11 days", page.Markup, StringComparison.Ordinal));
        Assert.Equal(book.Edition + 1, (await BookAsync()).Edition);
    }

    [Fact]
    public async Task File_with_a_wrong_figure_is_refused_with_its_place()
    {
        var page = Show(Role.Owner);
        var book = await BookAsync();
        var changed = PriceBookFile.Write(book with { Deposit = new(120) });

        page.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromText(changed, "price-book.json"));

        page.WaitForAssertion(() => Assert.Equal("deposit.percent", page.Find(".problem code").TextContent));
        Assert.Equal(book.Edition, (await BookAsync()).Edition);
    }

    [Fact]
    public void Front_desk_reads_the_price_book_and_changes_nothing()
    {
        var page = Show(Role.FrontDesk);

        Assert.Contains("Six-point weld-in bar, interior kept", page.Markup, StringComparison.Ordinal);
        Assert.Empty(page.FindAll("input[type=file]"));
    }

    private IRenderedComponent<PriceBookPage> Show(Role role)
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddMudServices();
        Services.AddFallbackServiceProvider(new OwnServices(shop.Services));
        var auth = AddAuthorization();
        auth.SetAuthorized(role.ToString());
        auth.SetRoles(role.ToString());
        auth.SetClaims(new Claim(ClaimTypes.NameIdentifier, shop.People[role].ToString()));
        SetRendererInfo(new("Server", true));
        Render<MudPopoverProvider>();
        var page = Render<PriceBookPage>();
        page.WaitForAssertion(() => Assert.Contains("Hinge options", page.Markup, StringComparison.Ordinal));
        return page;
    }

    private async Task<Domain.Quoting.PriceBook> BookAsync() =>
        (
            await shop.WithAsync<GetPriceBook, Outcome<Domain.Quoting.PriceBook>>(get =>
                get.RunAsync(Actor.System, CancellationToken.None)
            )
        ).Value;
}
