using Microsoft.AspNetCore.Components.Forms;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Web.Features.PriceBook;

/// <summary>The price book out to files and, through a preview, from files into the draft.</summary>
public partial class FilesPage(
    GetPriceBook get,
    GetPriceBookDraft getDraft,
    BeginPriceBookDraft begin,
    PreviewImport previewImport,
    ImportIntoDraft import
)
{
    private string part = "";
    private string currency = "";
    private bool hasDraft;
    private bool isBusy;
    private int inputKey;
    private BookFile? file;
    private ImportPreview? preview;
    private IReadOnlyList<FieldError> problems = [];

    private bool MayChange => Actor?.May(Permission.RunShop) == true;

    private string What => part.Length == 0 ? "Price book (JSON)" : PriceBookCsv.Find(part)!.Title + " (CSV)";

    private string Sample =>
        new Money(9_800, Currency.Of(currency)).ToString(System.Globalization.CultureInfo.InvariantCulture);

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await get.RunAsync(Actor, Closing);
        currency = outcome.IsSuccess ? outcome.Value.CurrencyCode : "";
        hasDraft = MayChange && (await getDraft.RunAsync(Actor, Closing)).IsSuccess;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "priceBook";

    private string Link(string? edition)
    {
        var path = part.Length == 0 ? "price-book/document?" : $"price-book/csv?part={part}&";
        return edition is null ? path.TrimEnd('?', '&') : $"{path}edition={edition}";
    }

    private void Choose(string? code)
    {
        part = code ?? "";
        Forget();
    }

    private void Forget()
    {
        (file, preview, problems) = (null, null, []);
        inputKey++;
    }

    private async Task PreviewAsync(InputFileChangeEventArgs chosen)
    {
        (file, preview, problems) = (null, null, []);
        if (chosen.File.Size > PriceBookFile.LargestBytes)
        {
            problems =
            [
                new("", $"The file has {chosen.File.Size} bytes; at most {PriceBookFile.LargestBytes} are read."),
            ];
            return;
        }

        isBusy = true;
        using var reader = new StreamReader(chosen.File.OpenReadStream(PriceBookFile.LargestBytes, Closing));
        file = new BookFile(part.Length == 0 ? null : part, await reader.ReadToEndAsync(Closing));
        if (!hasDraft)
        {
            var begun = await begin.RunAsync(new BeginPriceBookDraft.Request(null), Envelope(NewKey()), Closing);
            if (begun.Failure is not (null or Failure.Refused))
            {
                problems = ProblemsOf(begun.Failure);
                isBusy = false;
                return;
            }

            hasDraft = true;
        }

        var outcome = await previewImport.RunAsync(file, Actor, Closing);
        isBusy = false;
        if (!outcome.TryGet(out preview, out var failure))
        {
            problems = ProblemsOf(failure);
        }
    }

    private async Task ImportAsync()
    {
        isBusy = true;
        var outcome = await import.RunAsync(file!, Envelope(NewKey(), preview!.DraftVersion), Closing);
        isBusy = false;
        if (outcome.TryGet(out _, out var failure))
        {
            Snackbar.Add($"Taken into the draft: {preview.Changes.Count} changes.", MudBlazor.Severity.Success);
            Forget();
            Navigation.NavigateTo("price-book/draft");
            return;
        }

        // The draft was changed since the preview: show what the file would do to it now.
        if (failure is Failure.Refused)
        {
            var again = await previewImport.RunAsync(file!, Actor, Closing);
            preview = again.IsSuccess ? again.Value : null;
        }

        problems = ProblemsOf(failure);
    }

    private static IReadOnlyList<FieldError> ProblemsOf(Failure failure) =>
        failure is Failure.Invalid invalid ? invalid.Errors : [new("", failure.Sentence)];
}
