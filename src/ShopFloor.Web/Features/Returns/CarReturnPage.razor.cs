using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Parts;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Application.Intake.Returns;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Web.Features.HandOvers;
using ShopFloor.Web.Features.Shared;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Returns;

/// <summary>Giving back the car of a cancelled job as it stands: compared, counted, put into words, signed for.</summary>
public partial class CarReturnPage(GetCarReturn get, ReturnCar returnCar, ShopHead head)
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

    private static readonly Choice<bool?>.Option[] GivenBack = [new(true, "Given back"), new(false, "Not given back")];

    private static readonly Choice<RemovedPartPlace?>.Option[] Places =
    [
        new(RemovedPartPlace.Fitted, "Fitted again"),
        new(RemovedPartPlace.InBox, "In a box"),
    ];

    private readonly List<Removed> removed = [];
    private IReadOnlyList<WalkRoundPlace> looks = [];
    private IReadOnlyList<Part> parts = [];
    private IReadOnlyList<FieldError> errors = [];
    private CarReturnSheet? sheet;
    private SignaturePad? pad;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private IReadOnlyList<WarningLight>? lights;
    private int? odometerKm;
    private int? fuelPercent;
    private int? keys;
    private string? note;
    private string? leftOpen;
    private bool nothingRemoved;
    private bool settleLater;
    private bool measuresInInches;
    private bool isBusy;

    [Parameter]
    public Guid Id { get; set; }

    private JobId Job => new(Id);

    private IReadOnlyList<PhotoView> NewPhotos => [.. sheet!.Photos.Where(p => p.Kind == PhotoKind.HandOver)];

    private IEnumerable<Part> Answered => parts.Where(p => p.IsBack is not null);

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
            var known = parts.ToDictionary(p => p.View.Id);
            parts = [.. sheet.Parts.Select(p => known.GetValueOrDefault(p.Id) ?? new Part(p))];
        }

        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) =>
        notice.JobId == Id && notice.Subject is "photo" or "account" or "customerPart" or "carReturn" or "job";

    private async Task FinishAsync()
    {
        if (typed!.Refuse())
        {
            return;
        }

        isBusy = true;
        var input = new CarReturnInput(
            odometerKm,
            lights,
            fuelPercent,
            keys,
            WalkRoundPlace.Compared(looks),
            [.. Answered.Select(p => new PartBackInput(p.View.Id, p.IsBack, p.IsBack == false ? p.Note : null))],
            removed.Count == 0 && !nothingRemoved
                ? null
                : [.. removed.Select(p => new RemovedPartInput(p.What, p.Place))],
            leftOpen,
            note,
            await pad!.TakeAsync(),
            settleLater
        );
        var outcome = await returnCar.RunAsync(Job, input, Envelope(version: sheet!.JobVersion), Closing);
        isBusy = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (Accepted(outcome, out _, "The car is recorded as returned."))
        {
            await ReloadAsync();
        }
    }

    private void AddRemoved()
    {
        nothingRemoved = false;
        removed.Add(new Removed());
    }

    private void NothingRemoved()
    {
        if (nothingRemoved)
        {
            removed.Clear();
        }
    }

    /// <summary>The sentences belong to the places of the list, so they go with it.</summary>
    private void LeaveOut(Removed part)
    {
        removed.Remove(part);
        errors = [.. errors.Where(e => !e.Path.StartsWith("removedParts[", StringComparison.Ordinal))];
    }

    /// <summary>What is wrong with the note of a part, which has its number among those that were sent.</summary>
    private string? SayOf(Part part) => Say($"partsBack[{Answered.TakeWhile(p => p != part).Count()}].note");

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;

    /// <summary>A part that the customer brought, and whether it goes back.</summary>
    private sealed class Part(CustomerPartView view)
    {
        public CustomerPartView View => view;

        public bool? IsBack { get; set; }

        public string? Note { get; set; }
    }

    /// <summary>A part that was taken out of the car.</summary>
    private sealed class Removed
    {
        public string? What { get; set; }

        public RemovedPartPlace? Place { get; set; }
    }
}
