using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Progress;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Progress;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Progress;

/// <summary>What the customer's page shows by the shop's choice, for the front desk.</summary>
public partial class SharingPanel(
    ReadSharing read,
    ChooseSharing choose,
    ExplainMove explain,
    WriteCustomerNote write,
    WithdrawCustomerNote withdraw,
    ShopHead head
)
{
    private static readonly (ProgressPaper Paper, string Title)[] Titles =
    [
        (ProgressPaper.Quote, "The quote as a PDF, prices in it"),
        (ProgressPaper.Invoices, "Invoices and credit notes as PDFs"),
        (ProgressPaper.InspectionPack, "The inspection record as a PDF, once signed off"),
    ];

    private SharingView? sharing;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private (string Field, string Sentence)? problem;
    private string reason = "";
    private string text = "";
    private bool isBusy;

    [Parameter, EditorRequired]
    public JobId Job { get; set; }

    protected override async Task<Failure?> LoadAsync()
    {
        zone = TimeZoneInfo.FindSystemTimeZoneById((await head.ReadAsync(Closing))?.TimeZone ?? "UTC");
        var outcome = await read.RunAsync(Job, Actor, Closing);
        sharing = outcome.IsSuccess ? outcome.Value : sharing;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) =>
        notice.JobId == Job.Value && notice.Subject is "progressSharing" or "customerNote" or "photo" or "job";

    private string? Say(string field) => problem is { } said && said.Field == field ? said.Sentence : null;

    private Task<bool> ChooseAsync(ProgressPaper paper, bool isShown) =>
        ChooseAsync(
            sharing!.ShowsPrices,
            isShown ? [.. sharing.Papers, paper] : [.. sharing.Papers.Where(p => p != paper)]
        );

    private Task<bool> ChooseAsync(bool showsPrices, IReadOnlyList<ProgressPaper> papers, bool? showsForecast = null) =>
        ChangeAsync(
            "choice",
            () =>
                choose.RunAsync(
                    Job,
                    new ChooseSharing.Request(showsPrices, papers, showsForecast),
                    Envelope(NewKey()),
                    Closing
                )
        );

    private async Task ExplainAsync(string? words)
    {
        if (
            await ChangeAsync(
                "reason",
                () => explain.RunAsync(Job, new ExplainMove.Request(words), Envelope(NewKey()), Closing)
            )
        )
        {
            reason = "";
        }
    }

    private async Task WriteAsync()
    {
        if (
            await ChangeAsync(
                "note",
                () => write.RunAsync(Job, new WriteCustomerNote.Request(text), Envelope(NewKey()), Closing)
            )
        )
        {
            text = "";
        }
    }

    private async Task WithdrawAsync(CustomerNoteId note)
    {
        isBusy = true;
        if (
            Accepted(
                await withdraw.RunAsync(note, Envelope(NewKey()), Closing),
                out _,
                "The note is off the customer's page."
            )
        )
        {
            await ReloadAsync();
        }

        isBusy = false;
    }

    /// <summary>False after a refusal, which is shown beside the field; nothing typed is lost.</summary>
    private async Task<bool> ChangeAsync(string field, Func<Task<Outcome<SharingView>>> act)
    {
        // The second click of a double click arrives before the button is seen to be disabled.
        if (isBusy)
        {
            return false;
        }

        isBusy = true;
        var outcome = await act();
        isBusy = false;
        if (outcome.TryGet(out var changed, out var failure))
        {
            (sharing, problem) = (changed, null);
            return true;
        }

        problem = (field, failure.Sentence);
        return false;
    }

    private string Day(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    private static string Day(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);
}
