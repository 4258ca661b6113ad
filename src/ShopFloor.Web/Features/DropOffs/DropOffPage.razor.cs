using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Cars;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Features.Shared;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.DropOffs;

/// <summary>Booking a car in, as one conversation at the counter.</summary>
public partial class DropOffPage(
    GetDropOff get,
    RecordDropOff record,
    CompareCondition compare,
    AuthoriseWork authorise,
    WithdrawAuthorisation withdraw,
    ShopHead head
)
{
    private TypedFields? typed;
    private static readonly Choice<int?>.Option[] Levels =
    [
        new(0, "Empty"),
        new(25, "¼"),
        new(50, "½"),
        new(75, "¾"),
        new(100, "Full"),
    ];

    private static readonly IReadOnlyList<Choice<BatteryState?>.Option> Batteries =
    [
        .. Enum.GetValues<BatteryState>().Select(b => new Choice<BatteryState?>.Option(b, b.Title())),
    ];

    private static readonly IReadOnlyList<Choice<PhotoConsent>.Option> Consents =
    [
        .. new[] { PhotoConsent.Given, PhotoConsent.WithoutPlates, PhotoConsent.Refused }.Select(
            c => new Choice<PhotoConsent>.Option(c, c.Title())
        ),
    ];

    private readonly DropOffForm form = new();
    private IReadOnlyList<FieldError> errors = [];
    private DropOffSheet? sheet;
    private DifferenceView? difference;
    private SignaturePad? pad;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private bool measuresInInches;
    private bool isDirty;
    private bool isBusy;

    [Parameter]
    public Guid Id { get; set; }

    private JobId Job => new(Id);

    /// <summary>Signed for, or the job is over: nothing can be changed.</summary>
    private bool IsFixed => sheet?.DropOff?.Authorisation is not null || sheet?.JobState != JobState.Open;

    /// <summary>What is still to ask, judged on what is typed, saved or not.</summary>
    private IReadOnlyList<Warning> MissingNow =>
        DropOff.Begin(default, Job, form.ToInput().Details, default) is { IsSuccess: true } draft
            ? [.. draft.Value.Missing.Select(m => new Warning(m.Code, m.Text))]
            : sheet?.DropOff?.Missing ?? [];

    protected override async Task<Failure?> LoadAsync()
    {
        var heading = await head.ReadAsync(Closing);
        measuresInInches = heading?.LengthUnit == "inch";
        zone = TimeZoneInfo.FindSystemTimeZoneById(heading?.TimeZone ?? "UTC");
        var outcome = await get.RunAsync(Job, Actor, Closing);
        if (outcome.IsSuccess)
        {
            sheet = outcome.Value;
            form.Read(sheet);
            isDirty = false;
            await ReadDifferenceAsync();
        }

        return outcome.Failure;
    }

    private void Touch() => isDirty = true;

    private async Task CompareAsync()
    {
        Touch();
        await ReadDifferenceAsync();
    }

    private async Task ReadDifferenceAsync()
    {
        var found = new CompareCondition.Request(new Dictionary<string, string?>(form.ConditionFound));
        var outcome = await compare.RunAsync(Job, found, Actor, Closing);
        difference = outcome.IsSuccess ? outcome.Value : null;
    }

    private async Task<bool> SaveAsync()
    {
        if (typed!.Refuse())
        {
            return false;
        }

        isBusy = true;
        var outcome = await record.RunAsync(Job, form.ToInput(), Envelope(version: sheet!.DropOff?.Version), Closing);
        isBusy = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (!Accepted(outcome, out var saved))
        {
            return false;
        }

        sheet = sheet with { DropOff = saved };
        isDirty = false;
        return true;
    }

    private async Task AuthoriseAsync()
    {
        if (typed!.Refuse())
        {
            return;
        }

        if ((isDirty || sheet!.DropOff is null) && !await SaveAsync())
        {
            return;
        }

        isBusy = true;
        var request = new AuthoriseWork.Request(await pad!.TakeAsync(), AuthorisationNotice.Current.Hash);
        var outcome = await authorise.RunAsync(Job, request, Envelope(version: sheet!.DropOff!.Version), Closing);
        isBusy = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (Accepted(outcome, out var signed, "The work is authorised."))
        {
            sheet = sheet with { DropOff = signed };
        }
    }

    private async Task WithdrawAsync()
    {
        isBusy = true;
        var outcome = await withdraw.RunAsync(Job, Envelope(version: sheet!.DropOff!.Version), Closing);
        isBusy = false;
        if (Accepted(outcome, out var open, "The authorisation is withdrawn; the record can be changed again."))
        {
            sheet = sheet with { DropOff = open };
        }
    }

    private string Local(DateTimeOffset at) =>
        TimeZoneInfo
            .ConvertTime(at, zone)
            .ToString("yyyy-MM-dd HH:mm", System.Globalization.CultureInfo.InvariantCulture);

    private bool Has(string path) => Say(path) is not null;

    private string? Say(string path) =>
        errors.FirstOrDefault(e => e.Path == path || e.Path.StartsWith(path + "[", StringComparison.Ordinal))?.Text;
}
