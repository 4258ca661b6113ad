using ShopFloor.Application.Setup;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Settings;

/// <summary>The shop's settings.</summary>
public partial class SettingsPage(ReadShop read, ChangeShop change)
{
    private TypedFields? typed;
    private readonly SettingsForm form = new();
    private IReadOnlyList<FieldError> errors = [];
    private string currency = "";
    private long version;
    private bool isSaving;

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.RunAsync(Actor, Closing);
        if (outcome.IsSuccess)
        {
            Show(outcome.Value);
        }

        return outcome.Failure;
    }

    private void Show(ShopView shop)
    {
        form.Read(shop.Details);
        currency = shop.Currency;
        version = shop.Version;
    }

    private async Task SaveAsync()
    {
        if (typed!.Refuse())
        {
            return;
        }

        isSaving = true;
        var outcome = await change.RunAsync(form.ToDetails(), Envelope(version: version), Closing);
        isSaving = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out var shop, "Saved."))
        {
            Show(shop);
        }
    }

    private bool Has(string path) => errors.Any(e => e.Path == path);

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;

    /// <summary>What is typed on the settings page.</summary>
    public sealed class SettingsForm
    {
        public string? Name { get; set; }
        public string? LegalName { get; set; }
        public string? Address { get; set; }
        public string? TaxRegistration { get; set; }
        public string? Phone { get; set; }
        public string? Email { get; set; }
        public string? OpeningHours { get; set; }
        public string? TimeZone { get; set; }
        public string? LengthUnit { get; set; }
        public string? Accent { get; set; }
        public bool SelfInspection { get; set; }
        public int? FireWatchMinutes { get; set; }
        public int? LongTimerHours { get; set; }
        public string? ShiftEndsAt { get; set; }

        public void Read(Shop.Details details) =>
            (
                Name,
                LegalName,
                Address,
                TaxRegistration,
                Phone,
                Email,
                OpeningHours,
                TimeZone,
                LengthUnit,
                Accent,
                SelfInspection,
                FireWatchMinutes,
                LongTimerHours,
                ShiftEndsAt
            ) = details;

        public Shop.Details ToDetails() =>
            new(
                Name,
                LegalName,
                Address,
                TaxRegistration,
                Phone,
                Email,
                OpeningHours,
                TimeZone,
                LengthUnit,
                Accent,
                SelfInspection,
                FireWatchMinutes,
                LongTimerHours,
                ShiftEndsAt ?? ""
            );
    }
}
