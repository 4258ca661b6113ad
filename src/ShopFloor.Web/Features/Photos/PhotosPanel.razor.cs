using System.Globalization;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Documents.Images;
using ShopFloor.Documents.Qr;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Web.Features.Shared;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Photos;

/// <summary>Photos of a job, for the drop-off, the hand-over and the job's own page.</summary>
public partial class PhotosPanel(
    ListPhotos list,
    AddPhoto add,
    DescribePhoto describe,
    RemovePhoto remove,
    ShowPhoto show,
    CreateUploadLink createLink,
    RevokeUploadLink revokeLink,
    ShopHead head,
    Hosting.Settings settings
)
{
    /// <summary>Files taken from one choice in the file dialog.</summary>
    private const int MostAtOnce = 20;

    private readonly string inputId = "photos-" + NewKey();
    private IReadOnlyList<PhotoView> photos = [];
    private List<string> problems = [];
    private PhotoId? chosen;
    private UploadLinkTicket? link;
    private string linkAddress = "";
    private string busyWith = "";
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private bool isBusy;

    [Inject]
    public IQrCodes Qr { get; set; } = default!;

    [Parameter, EditorRequired]
    public JobId Job { get; set; }

    /// <summary>Null shows all kinds, without the plan.</summary>
    [Parameter]
    public PhotoKind? Kind { get; set; }

    [Parameter]
    public SteeringSide Steering { get; set; }

    [Parameter]
    public bool CanAdd { get; set; } = true;

    private bool ShowPlan => Kind is PhotoKind.WalkRound or PhotoKind.HandOver;

    private bool CanChange => CanAdd && May(Permission.AddPhotos);

    private bool CanPlace => CanChange && chosen is not null;

    private IReadOnlyList<CarPlan.Mark> Marks =>
        [
            .. photos
                .Select((p, i) => (Photo: p, Number: i + 1))
                .Where(p => p.Photo.Place is not null)
                .Select(p => new CarPlan.Mark(
                    p.Number,
                    p.Photo.Place!,
                    p.Photo.Caption ?? PlanZone.Nearest(p.Photo.Place!).Title,
                    p.Photo.Id == chosen,
                    p.Photo.Id
                )),
        ];

    private IReadOnlyList<PlanZone> NotShown => PlanZone.NotShown(photos.Select(p => p.Place).OfType<PlanPlace>());

    protected override async Task<Failure?> LoadAsync()
    {
        zone = TimeZoneInfo.FindSystemTimeZoneById((await head.ReadAsync(Closing))?.TimeZone ?? "UTC");
        var outcome = await list.RunAsync(Job, Kind, null, Actor, Closing);
        photos = outcome.IsSuccess ? outcome.Value : photos;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "photo" && notice.JobId == Job.Value;

    private bool May(Permission permission) => Actor.May(permission);

    private void Choose(PhotoView photo) => chosen = chosen == photo.Id ? null : photo.Id;

    private async Task AddAsync(InputFileChangeEventArgs change)
    {
        problems = [];
        if (change.FileCount > MostAtOnce)
        {
            problems.Add($"{change.FileCount} files are too many at once; choose up to {MostAtOnce}.");
            return;
        }

        isBusy = true;
        foreach (var file in change.GetMultipleFiles(MostAtOnce))
        {
            busyWith = file.Name;
            StateHasChanged();
            var outcome = await TakeAsync(file);
            if (outcome.Failure is { } failure)
            {
                problems.Add($"{file.Name}: {failure.Sentence}");
            }
        }

        isBusy = false;
        await ReloadAsync();
    }

    private async Task<Outcome<PhotoView>> TakeAsync(IBrowserFile file)
    {
        if (file.Size > ImageLimits.MaxBytes)
        {
            return new Failure.TooLarge(
                $"The file has more than {ImageLimits.MaxBytes / 1024 / 1024} MB. Send a smaller one."
            );
        }

        var bytes = new byte[file.Size];
        await using var stream = file.OpenReadStream(ImageLimits.MaxBytes, Closing);
        await stream.ReadExactlyAsync(bytes, Closing);
        return await add.RunAsync(Job, new PhotoInput(Kind), bytes, Envelope(), Closing);
    }

    private Task PlaceAsync(PlanPlace place) => DescribeAsync(place, Chosen()?.Caption);

    private Task PlaceByNameAsync(string? code) =>
        DescribeAsync(PlanZone.All.FirstOrDefault(z => z.Code == code)?.Place, Chosen()?.Caption);

    private Task CaptionAsync(string? caption) => DescribeAsync(Chosen()?.Place, caption);

    private PhotoView? Chosen() => photos.FirstOrDefault(p => p.Id == chosen);

    private async Task DescribeAsync(PlanPlace? place, string? caption)
    {
        if (Chosen() is not { } photo)
        {
            return;
        }

        var request = new DescribePhoto.Request(place?.X, place?.Y, caption);
        var outcome = await describe.RunAsync(photo.Id, request, Envelope(version: photo.Version), Closing);
        if (Accepted(outcome, out var described))
        {
            photos = [.. photos.Select(p => p.Id == described.Id ? described : p)];
        }
    }

    private async Task ShowAsync(PhotoView photo, bool isShown)
    {
        var outcome = await show.RunAsync(photo.Id, new ShowPhoto.Request(isShown), Envelope(), Closing);
        if (
            Accepted(
                outcome,
                out var changed,
                isShown ? "The customer's page shows the photo." : "The customer's page shows the photo no more."
            )
        )
        {
            photos = [.. photos.Select(p => p.Id == changed.Id ? changed : p)];
        }
        else
        {
            await ReloadAsync();
        }
    }

    private async Task RemoveAsync()
    {
        if (
            Chosen() is { } photo
            && Accepted(await remove.RunAsync(photo.Id, Envelope(), Closing), out _, "The picture is deleted.")
        )
        {
            chosen = null;
            await ReloadAsync();
        }
    }

    private async Task OfferPhoneAsync()
    {
        var outcome = await createLink.RunAsync(Job, new CreateUploadLink.Request(Kind), Envelope(), Closing);
        if (Accepted(outcome, out var ticket))
        {
            link = ticket;
            linkAddress = PhoneUpload.AddressOf(settings, ticket.Token);
        }
    }

    private async Task ShutLinkAsync()
    {
        if (
            link is not null
            && Accepted(await revokeLink.RunAsync(link.Id, Envelope(), Closing), out _, "The link is shut.")
        )
        {
            link = null;
        }
    }

    private string Local(DateTimeOffset at, string format) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString(format, CultureInfo.InvariantCulture);

    private static string Describe(PhotoView photo, int number)
    {
        var where = photo.Place is { } place ? ", " + PlanZone.Nearest(place).Title : "";
        return photo.Caption is { } caption ? $"Photo {number}{where}: {caption}" : $"Photo {number}{where}";
    }
}
