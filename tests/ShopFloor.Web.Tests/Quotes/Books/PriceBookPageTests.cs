using System.Security.Claims;
using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor;
using MudBlazor.Services;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Features.PriceBook;
using ShopFloor.Web.Tests.Fixtures;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Tests.Quotes.Books;

/// <summary>The price book's pages on the program's own services.</summary>
public sealed class PriceBookPageTests(SqliteShop shop) : BunitContext, IClassFixture<SqliteShop>
{
    private static CancellationToken Ct => Xunit.TestContext.Current.CancellationToken;

    private Envelope Owner => new(Actor.OfPerson(shop.People[Role.Owner], [Role.Owner], "test"));

    [Fact]
    public async Task Owner_changes_a_price_in_the_draft_and_adopts_it()
    {
        await FreshDraftAsync();
        var edition = (await BookAsync()).Edition;
        var page = Show<DraftPage>(Role.Owner, p => p.Add(d => d.Section, "hinge-options"));
        await page.Find("#f-hingeOptions-1--priceMinor").ChangeAsync(new() { Value = "105.00" });
        page.WaitForAssertion(() => Assert.Contains("Not saved yet", page.Markup, StringComparison.Ordinal));
        await ClickAsync(page, "Save the draft");
        page.WaitForAssertion(() => Assert.Contains("✓ Saved.", page.Markup, StringComparison.Ordinal));

        page.Render(p => p.Add(d => d.Section, null));
        Assert.Contains("Hinge option swing-out with pin: price 98.00 → 105.00", page.Markup, StringComparison.Ordinal);
        await ClickAsync(page, "Adopt as the next edition");

        page.WaitForAssertion(() => Assert.EndsWith("price-book/editions", Uri(), StringComparison.Ordinal));
        var adopted = await BookAsync();
        Assert.Equal((edition + 1, 10_500), (adopted.Edition, adopted.FindHinge("swing-out-pin")!.PriceMinor));
    }

    [Fact]
    public async Task What_cannot_be_read_stays_in_its_field_with_a_sentence_and_is_not_saved()
    {
        await FreshDraftAsync();
        var page = Show<DraftPage>(Role.Owner, p => p.Add(d => d.Section, "skills"));
        await page.Find("#f-skills-0--rateMinorPerHour").ChangeAsync(new() { Value = "sixty" });
        await page.Find("#f-skills-1--title").ChangeAsync(new() { Value = "welding and cutting" });
        await ClickAsync(page, "Save the draft");

        var field = page.Find("#f-skills-0--rateMinorPerHour");
        Assert.Equal(("sixty", "true"), (field.GetAttribute("value"), field.GetAttribute("aria-invalid")));
        Assert.Contains(
            "'sixty' is no amount",
            page.Find("#f-skills-0--rateMinorPerHour-wrong").TextContent,
            StringComparison.Ordinal
        );
        Assert.Equal("welding and cutting", page.Find("#f-skills-1--title").GetAttribute("value"));
        Assert.Contains("Not saved", page.Find(".problem").TextContent, StringComparison.Ordinal);
        Assert.Equal(1, (await DraftAsync()).Version);

        await page.Find("#f-skills-0--rateMinorPerHour").ChangeAsync(new() { Value = "60,5" });
        await ClickAsync(page, "Save the draft");
        page.WaitForAssertion(() => Assert.Contains("✓ Saved.", page.Markup, StringComparison.Ordinal));
        Assert.Equal(6_050, (await DraftAsync()).Book.Skills[0].RateMinorPerHour);
    }

    [Fact]
    public async Task Rule_of_the_book_speaks_at_its_field_and_blocks_adopting_only()
    {
        await FreshDraftAsync();
        var page = Show<DraftPage>(Role.Owner, p => p.Add(d => d.Section, "terms"));
        await page.Find("#f-deposit-percent").ChangeAsync(new() { Value = "120" });
        Assert.NotNull(page.Find("#f-deposit-percent-wrong"));
        await ClickAsync(page, "Save the draft");
        page.WaitForAssertion(() => Assert.Contains("✓ Saved.", page.Markup, StringComparison.Ordinal));

        page.Render(p => p.Add(d => d.Section, null));
        Assert.Contains("deposit.percent", page.Markup, StringComparison.Ordinal);
        Assert.True(Button(page, "Adopt as the next edition").HasAttribute("disabled"));
    }

    [Fact]
    public async Task Rule_about_several_fields_speaks_at_each_of_them_or_at_their_row()
    {
        await FreshDraftAsync();
        var page = Show<DraftPage>(Role.Owner, p => p.Add(d => d.Section, "standards"));
        var thin = (await DraftAsync()).Book.Standards.Index().Single(s => s.Item.Runs is not null).Index;
        await page.Find($"#f-standards-{thin}--runs-coolingSeconds-high").ChangeAsync(new() { Value = "1" });
        await page.Find("#f-standards-0--lowMinutes").ChangeAsync(new() { Value = "900" });

        Assert.NotNull(page.Find($"#f-standards-{thin}--runs-coolingSeconds-high-wrong"));
        Assert.Contains(
            page.FindAll("details p.error"),
            e => e.TextContent.Contains("Minutes must rise", StringComparison.Ordinal)
        );
    }

    [Fact]
    public async Task Rows_are_added_moved_and_taken_out()
    {
        await FreshDraftAsync();
        var page = Show<DraftPage>(Role.Owner, p => p.Add(d => d.Section, "uses"));
        await page.Find("button.add").ClickAsync(new());
        await page.Find("#f-uses-3--code").ChangeAsync(new() { Value = "hill" });
        await page.Find("#f-uses-3--title").ChangeAsync(new() { Value = "Hill climbs" });
        await page.Find("button[aria-label='Move up: Hill climbs']").ClickAsync(new());
        await page.Find("button[aria-label='Take out: Street']").ClickAsync(new());
        await ClickAsync(page, "Save the draft");
        page.WaitForAssertion(() => Assert.Contains("✓ Saved.", page.Markup, StringComparison.Ordinal));

        Assert.Equal(["track-day", "hill", "sanctioned"], (await DraftAsync()).Book.Uses.Select(u => u.Code));
    }

    [Fact]
    public async Task Second_of_two_sees_what_differs_and_may_save_over_it()
    {
        await FreshDraftAsync();
        var page = Show<DraftPage>(Role.Owner, p => p.Add(d => d.Section, "terms"));
        await page.Find("#f-validityDays").ChangeAsync(new() { Value = "21" });
        await SaveAsync(b => b with { PromiseDays = 40 }, version: 1);
        page.WaitForAssertion(() =>
            Assert.Contains("saved the draft meanwhile", page.Markup, StringComparison.Ordinal)
        );
        Assert.Contains("Quotes are valid for 30 days → 21 days", page.Markup, StringComparison.Ordinal);
        Assert.Equal("21", page.Find("#f-validityDays").GetAttribute("value"));

        await ClickAsync(page, "Save mine over theirs");

        page.WaitForAssertion(() => Assert.Contains("✓ Saved.", page.Markup, StringComparison.Ordinal));
        Assert.Equal((21, 28), ((await DraftAsync()).Book.ValidityDays, (await DraftAsync()).Book.PromiseDays));
    }

    [Fact]
    public async Task Draft_is_discarded_only_after_a_second_yes()
    {
        await FreshDraftAsync();
        var page = Show<DraftPage>(Role.Owner);
        await ClickAsync(page, "Discard the draft …");
        Assert.Equal(1, (await DraftAsync()).Version);

        await ClickAsync(page, "Discard it for good");

        page.WaitForAssertion(() => Assert.EndsWith("price-book", Uri(), StringComparison.Ordinal));
        Assert.IsType<Failure.NotFound>((await FindDraftAsync()).Failure);
    }

    [Fact]
    public async Task File_is_previewed_and_taken_in_after_a_yes()
    {
        await FreshDraftAsync();
        var page = Show<FilesPage>(Role.Owner);
        await page.Find("#part").ChangeAsync(new() { Value = "skills" });
        const string csv = "code,ratePerHour\nfitter,70.00\nwelder,82.00\npainter,72.00\ninspector,68.00\n";
        page.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromText(csv, "skills.csv"));
        page.WaitForAssertion(() =>
            Assert.Contains("Skill fitting: rate for an hour 68.00 → 70.00", page.Markup, StringComparison.Ordinal)
        );
        Assert.Equal(1, (await DraftAsync()).Version);

        await ClickAsync(page, "Take it into the draft");

        page.WaitForAssertion(() => Assert.EndsWith("price-book/draft", Uri(), StringComparison.Ordinal));
        Assert.Equal(7_000, (await DraftAsync()).Book.Skills[0].RateMinorPerHour);
    }

    [Fact]
    public async Task Wrong_file_is_told_with_row_and_column_and_changes_nothing()
    {
        await FreshDraftAsync();
        var page = Show<FilesPage>(Role.Owner);
        await page.Find("#part").ChangeAsync(new() { Value = "skills" });

        page.FindComponent<InputFile>()
            .UploadFiles(InputFileContent.CreateFromText("code,ratePerHour\nfitter,sixty", "skills.csv"));

        page.WaitForAssertion(() =>
            Assert.Contains("Row 2, column ratePerHour", page.Find(".problem").TextContent, StringComparison.Ordinal)
        );
        Assert.Equal(1, (await DraftAsync()).Version);
    }

    [Fact]
    public async Task Front_desk_reads_and_searches_and_is_offered_no_change()
    {
        var page = Show<PriceBookPage>(Role.FrontDesk);
        page.WaitForAssertion(() => Assert.Contains("Hinge options", page.Markup, StringComparison.Ordinal));
        Assert.Contains("Six-point weld-in bar, interior kept", page.Markup, StringComparison.Ordinal);
        Assert.DoesNotContain("price-book/draft", page.Markup, StringComparison.Ordinal);

        await page.Find("#book-search").InputAsync(new() { Value = "tunnel bars" });
        page.WaitForAssertion(() =>
            Assert.DoesNotContain("Four-point half bar", page.Markup, StringComparison.Ordinal)
        );
        Assert.Contains("Harness bar levelled and welded", page.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Front_desk_downloads_and_cannot_bring_files_in()
    {
        await FreshDraftAsync();
        var page = Show<FilesPage>(Role.FrontDesk);

        page.WaitForAssertion(() => Assert.Contains("of the edition in force", page.Markup, StringComparison.Ordinal));
        Assert.Empty(page.FindAll("input[type=file]"));
        Assert.DoesNotContain("of the draft", page.Markup, StringComparison.Ordinal);
    }

    private IRenderedComponent<T> Show<T>(Role role, Action<ComponentParameterCollectionBuilder<T>>? with = null)
        where T : IComponent
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
        var page = with is null ? Render<T>() : Render<T>(with);
        page.WaitForAssertion(() => Assert.Empty(page.FindAll(".mud-skeleton")));
        return page;
    }

    private static Task ClickAsync<T>(IRenderedComponent<T> page, string text)
        where T : IComponent => Button(page, text).ClickAsync(new());

    private static AngleSharp.Dom.IElement Button<T>(IRenderedComponent<T> page, string text)
        where T : IComponent => page.FindAll("button").Single(b => b.TextContent.Trim() == text);

    private string Uri() => Services.GetRequiredService<NavigationManager>().Uri;

    private async Task FreshDraftAsync()
    {
        await shop.WithAsync<DiscardPriceBookDraft, Outcome<Done>>(d => d.RunAsync(Owner, Ct));
        var begun = await shop.WithAsync<BeginPriceBookDraft, Outcome<DraftView>>(b => b.RunAsync(new(1), Owner, Ct));
        Assert.True(begun.IsSuccess, begun.Failure?.Sentence);
    }

    private async Task SaveAsync(Func<Book, Book> change, long version)
    {
        var book = change((await DraftAsync()).Book);
        var saved = await shop.WithAsync<SavePriceBookDraft, Outcome<DraftView>>(s =>
            s.RunAsync(new(book), Owner with { IfMatch = version }, Ct)
        );
        Assert.True(saved.IsSuccess, saved.Failure?.Sentence);
    }

    private async Task<DraftView> DraftAsync() => (await FindDraftAsync()).Value;

    private Task<Outcome<DraftView>> FindDraftAsync() =>
        shop.WithAsync<GetPriceBookDraft, Outcome<DraftView>>(get => get.RunAsync(Owner.Actor, Ct));

    private async Task<Book> BookAsync() =>
        (await shop.WithAsync<GetPriceBook, Outcome<Book>>(get => get.RunAsync(Actor.System, Ct))).Value;
}
