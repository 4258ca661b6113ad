using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.HandOvers;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Web.Features.Shared;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.HandOvers;

/// <summary>Giving the car back: compared with the drop-off, signed for, job closed.</summary>
public partial class HandOverPage(GetHandOver get, HandOverCar handOver, ShopHead head)
{
    private TypedFields? typed;
    private IReadOnlyList<WalkRoundPlace> looks = [];
    private IReadOnlyList<FieldError> errors = [];
    private HandOverSheet? sheet;
    private SignaturePad? pad;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private IReadOnlyList<WarningLight>? lights;
    private int? odometerKm;
    private int? keys;
    private string? note;
    private bool measuresInInches;
    private bool isBusy;

    [Parameter]
    public Guid Id { get; set; }

    private JobId Job => new(Id);

    private IReadOnlyList<PhotoView> NewPhotos => [.. sheet!.Photos.Where(p => p.Kind == PhotoKind.HandOver)];

    protected override async Task<Failure?> LoadAsync()
    {
        var heading = await head.ReadAsync(Closing);
        measuresInInches = heading?.LengthUnit == "inch";
        zone = TimeZoneInfo.FindSystemTimeZoneById(heading?.TimeZone ?? "UTC");
        var outcome = await get.RunAsync(Job, Actor, Closing);
        if (outcome.IsSuccess)
        {
            sheet = outcome.Value;
            looks = WalkRoundPlace.Of(sheet.Photos, looks);
        }

        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) =>
        notice.JobId == Id && notice.Subject is "photo" or "account" or "operation" or "job";

    private async Task FinishAsync()
    {
        if (typed!.Refuse())
        {
            return;
        }

        isBusy = true;
        var input = new HandOverInput(
            odometerKm,
            lights,
            keys,
            WalkRoundPlace.Compared(looks),
            note,
            await pad!.TakeAsync()
        );
        var outcome = await handOver.RunAsync(Job, input, Envelope(version: sheet!.JobVersion), Closing);
        isBusy = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (Accepted(outcome, out _, "The car is handed over; the job is closed."))
        {
            await ReloadAsync();
        }
    }

    private string Balance(long minor)
    {
        var money = new Money(Math.Abs(minor), Currency.Of(sheet!.Currency)).ToString(CultureInfo.CurrentCulture);
        return minor switch
        {
            > 0 => $"The customer owes {money}",
            < 0 => $"The shop owes {money}",
            _ => "✓ Everything is paid",
        };
    }

    private string Local(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);

    private static string Km(int km) =>
        $"{km.ToString("N0", CultureInfo.CurrentCulture)} km ({Odometer.MilesFromKm(km).ToString("N0", CultureInfo.CurrentCulture)} mi)";

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;
}
