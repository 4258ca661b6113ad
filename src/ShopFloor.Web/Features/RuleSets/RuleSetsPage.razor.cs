using Microsoft.AspNetCore.Components.Forms;
using ShopFloor.Application.Common;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.RuleSets;

/// <summary>The rule sets a car can be built to, and files brought in.</summary>
public partial class RuleSetsPage(ReadRuleSets read, KeepRuleSets keep)
{
    // UTF-8: at most 4 bytes for a character; the reader counts characters.
    private const long LargestBytes = 1_000_000;

    private IReadOnlyList<RuleSetRow> sets = [];
    private IReadOnlyList<FieldError> problems = [];
    private bool isBusy;
    private int inputKey;

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.ListAsync(Actor, Closing);
        sets = outcome.IsSuccess ? outcome.Value : [];
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "ruleSet";

    private async Task ImportAsync(InputFileChangeEventArgs chosen)
    {
        problems = [];
        if (chosen.File.Size > LargestBytes)
        {
            problems = [new("", $"The file has {chosen.File.Size} bytes; at most {LargestBytes} are read.")];
            inputKey++;
            return;
        }

        isBusy = true;
        using var reader = new StreamReader(chosen.File.OpenReadStream(LargestBytes, Closing));
        var outcome = await keep.ImportAsync(await reader.ReadToEndAsync(Closing), Envelope(NewKey()), Closing);
        isBusy = false;
        inputKey++;
        if (outcome.TryGet(out var set, out var failure))
        {
            Snackbar.Add($"Taken in as version {set.Version}.", MudBlazor.Severity.Success);
            Navigation.NavigateTo($"rule-sets/{set.Code}");
            return;
        }

        problems = failure is Failure.Invalid invalid ? invalid.Errors : [new("", failure.Sentence)];
    }
}
