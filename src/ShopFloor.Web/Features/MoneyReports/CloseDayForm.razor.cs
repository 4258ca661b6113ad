using System.Text.Json;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Quotes;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.MoneyReports;

/// <summary>Counting and closing a day.</summary>
public partial class CloseDayForm(CloseDay close)
{
    private TypedFields? typed;
    private IReadOnlyList<Count> counts = [];
    private IReadOnlyList<FieldError> errors = [];
    private IReadOnlyList<Count> sent = [];
    private DayView? shown;
    private string key = NewKey();
    private bool isAsking;
    private bool isSaving;

    [Parameter, EditorRequired]
    public DayView Day { get; set; } = null!;

    [Parameter]
    public EventCallback<DayView> OnClosed { get; set; }

    protected override Task<Failure?> LoadAsync() => Task.FromResult<Failure?>(null);

    protected override void OnParametersSet()
    {
        if (ReferenceEquals(shown, Day))
        {
            return;
        }

        // What was typed stays when only the expected sums of the same day moved.
        var typed = shown?.Day == Day.Day ? counts.ToDictionary(c => c.Row.Method) : [];
        counts =
        [
            .. Day.Methods.Select(m => new Count(m)
            {
                Minor = typed.GetValueOrDefault(m.Method)?.Minor,
                Note = typed.GetValueOrDefault(m.Method)?.Note,
            }),
        ];
        (isAsking, errors) = typed.Count > 0 ? (isAsking, errors) : (false, []);
        shown = Day;
    }

    private void Ask() => isAsking = !typed!.Refuse();

    private async Task CloseAsync()
    {
        if (typed!.Refuse())
        {
            return;
        }

        isSaving = true;
        // A way to pay of which nothing is expected and nothing was typed is not counted.
        sent = [.. counts.Where(c => c.Minor is not null || c.Row.ExpectedMinor != 0)];
        var request = new CloseDay.Request(
            Day.Day,
            [
                .. sent.Select(c => new CloseDay.Count(
                    JsonNamingPolicy.CamelCase.ConvertName(c.Row.Method.ToString()),
                    c.Minor,
                    c.Note
                )),
            ]
        );
        var outcome = await close.RunAsync(request, Envelope(key), Closing);
        isSaving = false;
        key = NewKey();
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        isAsking = false;
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out var closed, "The day is closed."))
        {
            await OnClosed.InvokeAsync(closed);
        }
    }

    private string Difference(long? minor) =>
        minor switch
        {
            null => "–",
            0 => "✓ None",
            > 0 => $"▲ {Money(minor.Value)} more",
            _ => $"▼ {Money(-minor.Value)} less",
        };

    private string Money(long minor) => QuoteWords.Money(minor, Day.Currency);

    private string? SayOf(Count count, string field) =>
        sent.Index().FirstOrDefault(c => c.Item.Row.Method == count.Row.Method) is { Item: not null } at
            ? Say($"methods[{at.Index}].{field}")
            : null;

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;

    private sealed class Count(DayMethodView row)
    {
        public DayMethodView Row => row;

        public long? Minor { get; set; }

        public string? Note { get; set; }
    }
}
