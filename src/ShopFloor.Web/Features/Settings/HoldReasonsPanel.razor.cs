using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Web.Features.Settings;

/// <summary>Edits the shop's reasons for a hold. A reason that was used is retired, never removed.</summary>
public partial class HoldReasonsPanel(ReadHoldReasons read, ChangeHoldReasons change)
{
    private readonly List<Row> rows = [];
    private IReadOnlyList<FieldError> errors = [];
    private bool isSaving;

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.AllAsync(Actor, Closing);
        if (outcome.IsSuccess)
        {
            Show(outcome.Value);
        }

        return outcome.Failure;
    }

    private void Show(HoldReasonsView view)
    {
        rows.Clear();
        rows.AddRange(view.Reasons.Select(r => new Row(r)));
    }

    private void Add()
    {
        var n = 1;
        while (rows.Exists(r => r.Code == CodeOf(n)))
        {
            n++;
        }

        rows.Add(new Row(new HoldReason(CodeOf(n), "")));
    }

    private async Task SaveAsync()
    {
        isSaving = true;
        var request = new ChangeHoldReasons.Request([.. rows.Select(r => r.Read())]);
        var outcome = await change.RunAsync(request, Envelope(NewKey()), Closing);
        isSaving = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out var saved, "Saved."))
        {
            Show(saved);
        }
    }

    private static string CodeOf(int n) => string.Create(CultureInfo.InvariantCulture, $"own{n}");

    private RenderFragment Said(string path) =>
        builder =>
        {
            if (errors.FirstOrDefault(e => e.Path == path) is { } error)
            {
                builder.OpenElement(0, "span");
                builder.AddAttribute(1, "class", "error");
                builder.AddAttribute(2, "role", "alert");
                builder.AddContent(3, error.Text);
                builder.CloseElement();
            }
        };

    private sealed class Row(HoldReason reason)
    {
        public string Code { get; } = reason.Code;
        public string? Title { get; set; } = reason.Title;
        public string? Whom { get; set; } = reason.Whom;
        public bool IsRetired { get; set; } = reason.IsRetired;

        public HoldReason Read() => new(Code, Title ?? "", Whom, IsRetired);
    }
}
