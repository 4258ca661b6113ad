using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Quotes;

namespace ShopFloor.Web.Features.MoneyReports;

/// <summary>Tax by rate and the journal of a period.</summary>
public partial class PeriodReports(GetTaxReport get)
{
    private TaxReport? report;
    private IReadOnlyList<FieldError> errors = [];
    private DateOnly? from;
    private DateOnly? to;

    /// <summary>The period begins with this day's month.</summary>
    [Parameter, EditorRequired]
    public DateOnly Today { get; set; }

    protected override Task<Failure?> LoadAsync()
    {
        from ??= new DateOnly(Today.Year, Today.Month, 1);
        to ??= from.Value.AddMonths(1).AddDays(-1);
        return Task.FromResult<Failure?>(null);
    }

    private async Task ShowAsync()
    {
        var outcome = await get.RunAsync(from, to, Actor, Closing);
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out var found))
        {
            report = found;
        }
    }

    private string Money(long minor) => QuoteWords.Money(minor, report!.Currency);

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;

    private static string? Iso(DateOnly? day) => day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static DateOnly? Read(object? typed) =>
        DateOnly.TryParseExact(
            typed as string,
            "yyyy-MM-dd",
            CultureInfo.InvariantCulture,
            DateTimeStyles.None,
            out var day
        )
            ? day
            : null;
}
