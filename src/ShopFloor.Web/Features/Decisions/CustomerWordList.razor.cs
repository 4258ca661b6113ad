using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Decisions;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Decisions;

/// <summary>Questions that wait for the front desk, or everything that the customer of one job wrote.</summary>
public partial class CustomerWordList(ReadCustomerWords read, SettleCustomerWord settle, ShopHead head)
{
    private readonly Dictionary<CustomerWordId, string?> answers = [];
    private IReadOnlyList<CustomerWordView> words = [];
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private bool isBusy;

    /// <summary>Only this job's; null for those that wait, of all.</summary>
    [Parameter]
    public JobId? Job { get; set; }

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = Job is { } job
            ? await read.OfJobAsync(job, Actor, Closing)
            : await read.OpenAsync(Actor, Closing);
        words = outcome.IsSuccess ? outcome.Value : words;
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "customerWord";

    private string? Typed(CustomerWordView word) => answers.GetValueOrDefault(word.Id);

    private async Task SettleAsync(CustomerWordView word)
    {
        isBusy = true;
        var request = new SettleCustomerWord.Request(Typed(word));
        if (Accepted(await settle.RunAsync(word.Id, request, Envelope(NewKey()), Closing), out _, "Dealt with."))
        {
            answers.Remove(word.Id);
            await ReloadAsync();
        }

        isBusy = false;
    }

    private string Moment(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture);
}
