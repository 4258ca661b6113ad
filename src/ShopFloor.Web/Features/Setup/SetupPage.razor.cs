using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Setup;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Features.Setup;

/// <summary>First-run set-up: open only until somebody can sign in, and only to whoever can read the terminal.</summary>
public partial class SetupPage(SetUpShop setUp, SetupGate gate, NavigationManager navigation)
{
    private IReadOnlyList<FieldError> errors = [];
    private IReadOnlyList<string> zones = [];
    private SetupStage stage;
    private bool isComplete;

    [SupplyParameterFromForm]
    public SetupModel? Input { get; set; }

    public sealed class SetupModel
    {
        public string? Code { get; set; }
        public string? Name { get; set; }
        public string? LegalName { get; set; }
        public string? Address { get; set; }
        public string? TaxRegistration { get; set; }
        public string? Phone { get; set; }
        public string? Currency { get; set; }
        public string? TimeZone { get; set; }
        public string LengthUnit { get; set; } = "mm";
        public bool TakeStarterData { get; set; }
        public string? OwnerName { get; set; }
        public string? OwnerEmail { get; set; }
        public string? Password { get; set; }
        public string? Repeat { get; set; }
    }

    protected override async Task OnInitializedAsync()
    {
        Input ??= new SetupModel
        {
            TimeZone = TimeZoneInfo.Local.HasIanaId ? TimeZoneInfo.Local.Id : "",
            TakeStarterData = true,
        };
        zones =
        [
            .. TimeZoneInfo
                .GetSystemTimeZones()
                .Where(z => z.HasIanaId)
                .Select(z => z.Id)
                .Order(StringComparer.Ordinal),
        ];
        stage = await setUp.StageAsync(CancellationToken.None);
        isComplete = stage == SetupStage.Complete;
    }

    private async Task SaveAsync()
    {
        if (isComplete)
        {
            return;
        }

        var form = Input!;
        var found = new FieldErrors();
        found.AddIf(
            !gate.IsRight(form.Code),
            "code",
            gate.IsClosed
                ? "Too many wrong codes were tried. Start the program again: it then shows a new one."
                : "This is not the code in the terminal. It changes each time the program is started."
        );
        found.AddIf(form.Password != form.Repeat, "repeat", "The two passwords differ.");
        if (found.Any)
        {
            errors = ((Failure.Invalid)found.ToFailure()).Errors;
            return;
        }

        var failure =
            stage == SetupStage.ShopOnly
                ? (
                    await setUp.CreateOwnerAsync(form.OwnerName, form.OwnerEmail, form.Password, CancellationToken.None)
                ).Failure
                : (await setUp.RunAsync(RequestOf(form), CancellationToken.None)).Failure;
        if (failure is null)
        {
            navigation.NavigateTo("/sign-in", forceLoad: true);
            return;
        }

        errors = failure is Failure.Invalid invalid
            ? [.. invalid.Errors.Select(e => stage == SetupStage.ShopOnly ? e with { Path = "owner." + e.Path } : e)]
            : [new FieldError("code", failure.Sentence)];
    }

    private static SetUpShop.Request RequestOf(SetupModel form) =>
        new(
            new Shop.Details(
                form.Name,
                form.LegalName,
                form.Address,
                form.TaxRegistration,
                form.Phone,
                null,
                null,
                form.TimeZone,
                form.LengthUnit,
                null,
                false
            ),
            form.Currency?.Trim().ToUpperInvariant(),
            form.TakeStarterData,
            form.OwnerName,
            form.OwnerEmail,
            form.Password
        );
}
