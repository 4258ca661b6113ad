using System.Globalization;
using ShopFloor.Application.Common;
using ShopFloor.Application.Devices;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Devices;

/// <summary>The owner's page of tablets and PINs.</summary>
public partial class DevicesPage(
    ReadDevices read,
    MakeEnrolmentCode make,
    RevokeDevice revoke,
    SetPin setPin,
    Hosting.Settings settings,
    ShopHead head
)
{
    private IReadOnlyList<DeviceView> devices = [];
    private IReadOnlyList<PinView> pins = [];
    private MakeEnrolmentCode.Made? made;
    private PersonId? open;
    private string? typed;
    private string? problem;
    private string address = "/enrol";
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    protected override async Task<Failure?> LoadAsync()
    {
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        address = $"{settings.PublicUrl}/enrol";
        var list = await read.ListAsync(Actor, Closing);
        var pinList = await read.PinsAsync(Actor, Closing);
        devices = list.IsSuccess ? list.Value : [];
        pins = pinList.IsSuccess ? pinList.Value : [];
        return list.Failure ?? pinList.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject is "device" or "person";

    private async Task MakeCodeAsync()
    {
        if (Accepted(await make.RunAsync(Envelope(), Closing), out var fresh))
        {
            made = fresh;
        }
    }

    private async Task EndAsync(DeviceView device)
    {
        Accepted(
            await revoke.RunAsync(device.Id, Envelope(NewKey()), Closing),
            out _,
            "Ended. Nobody is signed in on it any more."
        );
        await ReloadAsync();
    }

    private void Open(PinView pin)
    {
        open = pin.Person;
        (typed, problem) = (null, null);
    }

    private void Close() => (open, typed, problem) = (null, null, null);

    private async Task SetAsync(PinView pin, string? digits)
    {
        var isSetting = open == pin.Person;
        var request = new SetPin.Request(isSetting ? digits ?? "" : null);
        var outcome = await setPin.RunAsync(pin.Person, request, Envelope(), Closing);
        problem = outcome.Failure is Failure.Invalid invalid ? invalid.Errors[0].Text : null;
        if (problem is null && Accepted(outcome, out _, isSetting ? "The PIN is set." : "The PIN is gone."))
        {
            Close();
            await ReloadAsync();
        }
    }

    private string Local(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM HH:mm", CultureInfo.InvariantCulture);
}
