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
    private static readonly Choice<bool?>.Option[] Verdicts = [new(true, "Same"), new(false, "Different")];

    private IReadOnlyList<Look> looks = [];
    private IReadOnlyList<FieldError> errors = [];
    private HandOverSheet? sheet;
    private SignaturePad? pad;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private IReadOnlyList<WarningLight>? lights;
    private int? odometerKm;
    private int? keys;
    private string? note;
    private bool payLater;
    private bool measuresInInches;
    private bool isBusy;

    [Parameter]
    public Guid Id { get; set; }

    private JobId Job => new(Id);

    private IReadOnlyList<PhotoView> NewPhotos => [.. sheet!.Photos.Where(p => p.Kind == PhotoKind.HandOver)];

    private IEnumerable<Look> Compared => looks.Where(l => l.IsSame is not null);

    protected override async Task<Failure?> LoadAsync()
    {
        var heading = await head.ReadAsync(Closing);
        measuresInInches = heading?.LengthUnit == "inch";
        zone = TimeZoneInfo.FindSystemTimeZoneById(heading?.TimeZone ?? "UTC");
        var outcome = await get.RunAsync(Job, Actor, Closing);
        if (outcome.IsSuccess)
        {
            sheet = outcome.Value;
            var known = looks.ToDictionary(l => l.Photo.Id);
            looks =
            [
                .. sheet
                    .Photos.Where(p => p.Kind == PhotoKind.WalkRound)
                    .Select(p => known.GetValueOrDefault(p.Id) ?? new Look(p)),
            ];
        }

        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) =>
        notice.JobId == Id && notice.Subject is "photo" or "account" or "operation" or "job";

    private async Task FinishAsync()
    {
        isBusy = true;
        var input = new HandOverInput(
            odometerKm,
            lights,
            keys,
            [.. Compared.Select(l => l.ToInput())],
            note,
            await pad!.TakeAsync(),
            payLater
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

    /// <summary>What is wrong with the note of a look, which has its number among those that were sent.</summary>
    private string? SayOf(Look look) => Say($"looks[{Compared.TakeWhile(l => l != look).Count()}].note");

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;

    /// <summary>One photo of the drop-off and what is said of it now.</summary>
    private sealed class Look(PhotoView photo)
    {
        public PhotoView Photo => photo;

        public string Title =>
            photo.Caption ?? (photo.Place is { } place ? PlanZone.Nearest(place).Title : "not placed");

        public bool? IsSame { get; set; }

        public string? Note { get; set; }

        public string? NewPhoto { get; set; }

        public LookInput ToInput() =>
            new(
                photo.Id,
                Guid.TryParse(NewPhoto, out var id) ? new PhotoId(id) : null,
                IsSame,
                IsSame == false ? Note : null
            );
    }
}
