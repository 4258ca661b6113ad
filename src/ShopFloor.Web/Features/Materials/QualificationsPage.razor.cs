using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Materials;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Materials;

/// <summary>The owner's register of welders' qualifications.</summary>
public partial class QualificationsPage(ReadQualifications read, KeepQualifications keep)
{
    private sealed class Form
    {
        public string Person { get; set; } = "";
        public string Process { get; set; } = "";
        public string Standard { get; set; } = "";
        public string Number { get; set; } = "";
        public DateOnly? ValidUntil { get; set; }
    }

    private QualificationsView? view;
    private IReadOnlyList<FieldError> errors = [];
    private Form? form;
    private QualificationView? changing;
    private WelderQualificationId? retiring;
    private TypedFields? typed;
    private string? other;
    private string key = "";
    private bool isBusy;

    private List<QualificationView> InUse => [.. view!.Items.Where(q => !q.IsRetired)];

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.RunAsync(Actor, Closing);
        view = outcome.IsSuccess ? outcome.Value : view;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "qualification";

    private void Open(QualificationView? one)
    {
        (changing, errors, other, key, retiring) = (one, [], null, NewKey(), null);
        form = one is null
            ? new Form()
            : new Form
            {
                Process = one.Process,
                Standard = one.Standard,
                Number = one.Number ?? "",
                ValidUntil = one.ValidUntil,
            };
    }

    private void Close() => (form, changing, errors, other) = (null, null, [], null);

    private async Task SaveAsync()
    {
        if (typed!.Refuse())
        {
            return;
        }

        var request = new KeepQualifications.Request(
            Guid.TryParse(form!.Person, out var person) ? person : null,
            form.Process,
            form.Standard,
            form.Number,
            form.ValidUntil
        );
        isBusy = true;
        var outcome = changing is { } one
            ? await keep.ChangeAsync(one.Id, request, Envelope(key, one.Version), Closing)
            : await keep.AddAsync(request, Envelope(key), Closing);
        isBusy = false;
        if (outcome.Failure is { } failure)
        {
            errors = failure is Failure.Invalid invalid ? invalid.Errors : [];
            other = failure is Failure.Invalid ? null : failure.Sentence;
            key = NewKey();
            return;
        }

        Close();
        await ReloadAsync();
    }

    private async Task RetireAsync(QualificationView one)
    {
        retiring = null;
        var outcome = await keep.RetireAsync(one.Id, Envelope(NewKey(), one.Version), Closing);
        if (Accepted(outcome, out _, "It is out of the register."))
        {
            await ReloadAsync();
        }
    }

    private static string Until(QualificationView one) =>
        one switch
        {
            { ValidUntil: null } => "does not run out",
            { IsExpired: true } => $"✕ ran out on {Day(one)}",
            { DueInDays: <= 30 } => $"◐ until {Day(one)}, in {one.DueInDays} days",
            _ => $"✓ until {Day(one)}",
        };

    private static string Day(QualificationView one) =>
        one.ValidUntil!.Value.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    private RenderFragment Said(string path) =>
        builder =>
        {
            if (errors.FirstOrDefault(e => e.Path == path)?.Text is { } text)
            {
                builder.OpenElement(0, "span");
                builder.AddAttribute(1, "class", "error");
                builder.AddAttribute(2, "role", "alert");
                builder.AddContent(3, text);
                builder.CloseElement();
            }
        };
}
