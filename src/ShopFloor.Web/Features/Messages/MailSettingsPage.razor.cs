using System.Text.Json;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Messages;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Messages;

/// <summary>The mail server that messages go out by.</summary>
public partial class MailSettingsPage(ReadMailSettings read, ChangeMailSettings change, TestMail test)
{
    private readonly Form form = new();
    private TypedFields? typed;
    private IReadOnlyList<FieldError> errors = [];
    private TestMail.Result? tested;
    private string? to;
    private int waiting;
    private long version;
    private bool hasPassword;
    private bool isSaving;

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.RunAsync(Actor, Closing);
        if (outcome.IsSuccess)
        {
            Show(outcome.Value);
            to = outcome.Value.ReplyTo ?? outcome.Value.SenderAddress;
        }

        return outcome.Failure;
    }

    private void Show(MailSettingsView view)
    {
        (form.IsOn, form.Host, form.Port, form.User) = (view.IsOn, view.Host, view.Port, view.User);
        form.Security = JsonNamingPolicy.CamelCase.ConvertName(view.Security.ToString());
        (form.SenderName, form.SenderAddress, form.ReplyTo) = (view.SenderName, view.SenderAddress, view.ReplyTo);
        form.Password = null;
        (waiting, version, hasPassword) = (view.Waiting, view.Version, view.HasPassword);
    }

    private async Task SaveAsync()
    {
        if (typed!.Refuse() || isSaving)
        {
            return;
        }

        isSaving = true;
        var details = new MailSettings.Details(
            form.IsOn,
            form.Host,
            form.Port,
            form.Security,
            form.User,
            string.IsNullOrEmpty(form.Password) ? null : form.Password,
            form.SenderName,
            form.SenderAddress,
            form.ReplyTo
        );
        var outcome = await change.RunAsync(details, Envelope(version: version == 0 ? null : version), Closing);
        isSaving = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out var view, "Saved."))
        {
            Show(view);
        }
    }

    private async Task TestAsync()
    {
        if (isSaving)
        {
            return;
        }

        (isSaving, tested) = (true, null);
        var outcome = await test.RunAsync(new TestMail.Request(to), Actor, Closing);
        isSaving = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        tested =
            outcome.IsSuccess ? outcome.Value
            : outcome.Failure is Failure.Invalid ? null
            : new TestMail.Result(false, outcome.Failure.Sentence);
    }

    private bool Has(string path) => Say(path) is not null;

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;

    private RenderFragment Said(string path) => FieldSaid.Of(errors, path);

    /// <summary>What is typed.</summary>
    private sealed class Form
    {
        public bool IsOn { get; set; }
        public string? Host { get; set; }
        public int? Port { get; set; }
        public string Security { get; set; } = "startTls";
        public string? User { get; set; }
        public string? Password { get; set; }
        public string? SenderName { get; set; }
        public string? SenderAddress { get; set; }
        public string? ReplyTo { get; set; }
    }
}
