using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Inspection;

/// <summary>The owner's register of measuring instruments.</summary>
public partial class InstrumentsPage(ReadInstruments read, KeepInstruments keep)
{
    private sealed class Form
    {
        public string Name { get; set; } = "";
        public InstrumentKind Kind { get; set; }
        public string Unit { get; set; } = Instrument.Units[0];
        public decimal? Uncertainty { get; set; }
        public DateOnly? DueOn { get; set; }
        public string Note { get; set; } = "";
    }

    private IReadOnlyList<InstrumentView> all = [];
    private IReadOnlyList<FieldError> errors = [];
    private Form? form;
    private InstrumentView? changing;
    private InstrumentId? retiring;
    private TypedFields? typed;
    private string? other;
    private string key = "";
    private bool isBusy;

    private List<InstrumentView> InUse => [.. all.Where(i => !i.IsRetired)];

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.RunAsync(Actor, Closing);
        all = outcome.IsSuccess ? outcome.Value : all;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "instrument";

    private void Open(InstrumentView? instrument)
    {
        (changing, errors, other, key, retiring) = (instrument, [], null, NewKey(), null);
        form = instrument is null
            ? new Form()
            : new Form
            {
                Name = instrument.Name,
                Kind = instrument.Kind,
                Unit = instrument.Unit,
                Uncertainty = instrument.Uncertainty,
                DueOn = instrument.CalibrationDueOn,
                Note = instrument.Note ?? "",
            };
    }

    private void Close() => (form, changing, errors, other) = (null, null, [], null);

    private async Task SaveAsync()
    {
        if (typed!.Refuse())
        {
            return;
        }

        var request = new KeepInstruments.Request(
            form!.Name,
            form.Kind,
            form.Unit,
            form.Uncertainty,
            form.DueOn,
            form.Note
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

    private async Task RetireAsync(InstrumentView instrument)
    {
        retiring = null;
        var outcome = await keep.RetireAsync(instrument.Id, Envelope(NewKey(), instrument.Version), Closing);
        if (Accepted(outcome, out _, $"{instrument.Name} is out of use."))
        {
            await ReloadAsync();
        }
    }

    private static string Due(InstrumentView instrument) =>
        instrument switch
        {
            { CalibrationDueOn: null } => "needs none",
            { IsOverdue: true } => $"✕ was due on {Day(instrument)}: nothing passes by it",
            { DueInDays: <= 30 } => $"◐ due on {Day(instrument)}, in {instrument.DueInDays} days",
            _ => $"✓ until {Day(instrument)}",
        };

    private static string Day(InstrumentView instrument) =>
        instrument.CalibrationDueOn!.Value.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;

    private RenderFragment Said(string path) =>
        builder =>
        {
            if (Say(path) is { } text)
            {
                builder.OpenElement(0, "span");
                builder.AddAttribute(1, "class", "error");
                builder.AddAttribute(2, "role", "alert");
                builder.AddContent(3, text);
                builder.CloseElement();
            }
        };
}
