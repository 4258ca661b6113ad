using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Web.Features.Jobs.Route;

/// <summary>Puts an operation on the route that mends another.</summary>
public partial class ReworkPanel(AddRework addRework)
{
    private readonly HashSet<string> needs = new(StringComparer.Ordinal);
    private readonly HashSet<string> closes = new(StringComparer.Ordinal);
    private readonly HashSet<string> opens = new(StringComparer.Ordinal);
    private readonly HashSet<string> before = new(StringComparer.Ordinal);
    private IReadOnlyList<FieldError> errors = [];
    private bool isOpen;
    private bool isSaving;
    private bool hotWork;
    private bool paint;
    private string? mends;
    private string? title;
    private string? reason;

    [Parameter, EditorRequired]
    public JobView Job { get; set; } = default!;

    [Parameter, EditorRequired]
    public IReadOnlyList<WayView> Ways { get; set; } = [];

    [Parameter]
    public EventCallback OnChanged { get; set; }

    private IEnumerable<OperationView> Begun =>
        Job.Operations.Where(o => o.BegunAt is not null && o.DoneBeforeOn is null);

    private IReadOnlyList<OperationView> Later =>
        [.. Job.Operations.Where(o => o.BegunAt is null && o.NotNeededReason is null)];

    protected override Task<Failure?> LoadAsync() => Task.FromResult<Failure?>(null);

    private void Open()
    {
        (isOpen, mends, title, reason, hotWork, paint, errors) = (true, null, null, null, false, false, []);
        needs.Clear();
        closes.Clear();
        opens.Clear();
        before.Clear();
    }

    /// <summary>Begins with what the mended operation says.</summary>
    private void Preset()
    {
        if (Job.Operations.FirstOrDefault(o => o.Code == mends) is not { } mended)
        {
            return;
        }

        hotWork = mended.HotWork;
        paint = mended.PaintOrSolvent;
        needs.Clear();
        needs.UnionWith(mended.NeedsOpen ?? []);
        before.Clear();
        before.UnionWith(
            Later.Where(o => o.Gates.Any(g => g.Kind == "operation" && g.Operation == mends)).Select(o => o.Code)
        );
    }

    private async Task SaveAsync()
    {
        isSaving = true;
        var outcome = await addRework.RunAsync(
            Job.Id,
            new AddRework.Request(
                mends,
                title,
                reason,
                HotWork: hotWork,
                NeedsOpen: [.. needs],
                Closes: [.. closes],
                Opens: [.. opens],
                Before: [.. before],
                PaintOrSolvent: paint
            ),
            Envelope(NewKey(), Job.Version),
            Closing
        );
        isSaving = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (errors.Count == 0 && Accepted(outcome, out _, "The rework is on the route."))
        {
            isOpen = false;
            await OnChanged.InvokeAsync();
        }
    }

    private static void Set(HashSet<string> set, string code, ChangeEventArgs change)
    {
        if ((bool)change.Value!)
        {
            set.Add(code);
        }
        else
        {
            set.Remove(code);
        }
    }

    private RenderFragment Say(string path) =>
        builder =>
        {
            if (errors.FirstOrDefault(e => e.Path.Contains(path, StringComparison.Ordinal))?.Text is { } text)
            {
                builder.OpenElement(0, "span");
                builder.AddAttribute(1, "class", "error");
                builder.AddAttribute(2, "role", "alert");
                builder.AddContent(3, text);
                builder.CloseElement();
            }
        };
}
