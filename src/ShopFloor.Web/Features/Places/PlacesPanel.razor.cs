using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Places;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;

namespace ShopFloor.Web.Features.Places;

/// <summary>Edits the shop's places.</summary>
public partial class PlacesPanel(ReadShopPlaces read, ChangeShopPlaces change)
{
    private readonly List<Row> rows = [];
    private IReadOnlyList<FieldError> errors = [];
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

    private void Show(ShopPlacesView view)
    {
        rows.Clear();
        rows.AddRange(
            view.Places.Select(p => new Row
            {
                Code = p.Code,
                Title = p.Title,
                Kind = p.Kind,
            })
        );
    }

    private void Add() => rows.Add(new Row());

    private async Task SaveAsync()
    {
        isSaving = true;
        foreach (var row in rows.Where(r => r.Code.Length == 0))
        {
            row.Code = NewCode(row.Kind);
        }

        var request = new ChangeShopPlaces.Request([.. rows.Select(r => new ShopPlace(r.Code, r.Title, r.Kind))]);
        var outcome = await change.RunAsync(request, Envelope(NewKey()), Closing);
        isSaving = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out var saved, "Saved."))
        {
            Show(saved);
        }
    }

    /// <summary>bay-2, bay-3 …: a code stays with its place when the place is renamed.</summary>
    private string NewCode(string kind) =>
        Enumerable
            .Range(2, ShopPlaces.MostOfAShop)
            .Select(n => string.Create(CultureInfo.InvariantCulture, $"{kind}-{n}"))
            .First(c => !rows.Exists(r => r.Code == c));

    private RenderFragment Said(string path) =>
        builder =>
        {
            foreach (var error in errors.Where(e => e.Path == path))
            {
                builder.OpenElement(0, "span");
                builder.AddAttribute(1, "class", "error");
                builder.AddAttribute(2, "role", "alert");
                builder.AddContent(3, error.Text);
                builder.CloseElement();
            }
        };

    private sealed class Row
    {
        public string Code { get; set; } = "";
        public string Title { get; set; } = "";
        public string Kind { get; set; } = "bay";
    }
}
