using ShopFloor.Application.Common;
using ShopFloor.Application.Workbench;
using ShopFloor.Application.Workbench.Dies;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Workbench;

/// <summary>The shop's table of bender dies.</summary>
public partial class DiesPage(ReadBenderDies read, KeepBenderDies keep, OpenBench open)
{
    private static readonly int[] Usual = [30, 45, 60, 90];

    private static readonly IReadOnlyList<BenchField> Fields =
    [
        new("name", "What you call the die", BenchFieldKind.Text, ""),
        new("outsideDiameterMm", "For tube of outside diameter", BenchFieldKind.Length, ""),
        new("centrelineRadiusMm", "Radius of the die, to the tube's middle", BenchFieldKind.Length, ""),
        new(
            "clampMm",
            "Straight that the die needs",
            BenchFieldKind.Length,
            "",
            "May stay empty. About 1.5 to 2 diameters is common practice; measure yours.",
            IsOptional: true
        ),
        new(
            "markOffsetMm",
            "Bender's mark against the bend's start",
            BenchFieldKind.Length,
            "",
            "May stay empty for 0. Minus where the bender's mark comes first.",
            IsOptional: true
        ),
        new(
            BenchBender.TrialsName,
            "Springback trials",
            BenchFieldKind.Lines,
            "",
            "One trial a line: angle after release; angle the bender stood at. Such as 88; 90.",
            IsOptional: true,
            LengthParts: 0
        ),
        new(
            "note",
            "Note",
            BenchFieldKind.Text,
            "",
            "With which tube and wall the trials were made.",
            IsOptional: true
        ),
    ];

    private IReadOnlyList<BenderDieView> dies = [];
    private IReadOnlyList<FieldError> errors = [];
    private Dictionary<string, string>? form;
    private BenderDieView? changing;
    private LengthUnit unit;
    private bool isBusy;

    private bool MayKeep => Actor.May(Permission.KeepFigures);

    private List<BenderDieView> InUse => [.. dies.Where(d => !d.IsRetired)];

    protected override async Task<Failure?> LoadAsync()
    {
        if (!(await open.RunAsync("dies", Actor, Closing)).TryGet(out var start, out var failure))
        {
            return failure;
        }

        unit = start.Unit;
        var outcome = await read.RunAsync(Actor, Closing);
        dies = outcome.IsSuccess ? outcome.Value : dies;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "benderDie";

    private void Open(BenderDieView? die)
    {
        (changing, errors) = (die, []);
        form = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["name"] = die?.Name ?? "",
            ["outsideDiameterMm"] = Typed(die?.OutsideDiameterMm),
            ["centrelineRadiusMm"] = Typed(die?.CentrelineRadiusMm),
            ["clampMm"] = Typed(die?.ClampMm),
            ["markOffsetMm"] = Typed(die?.MarkOffsetMm),
            [BenchBender.TrialsName] = BenchBender.Written(die?.Trials ?? []),
            ["note"] = die?.Note ?? "",
        };
    }

    private void Close() => (form, changing, errors) = (null, null, []);

    private async Task SaveAsync()
    {
        var wrong = new FieldErrors();
        var trials = BenchBender.Parse(form![BenchBender.TrialsName]);
        wrong.Take(trials);
        var request = new KeepBenderDies.Request(
            form["name"],
            Length("outsideDiameterMm", true),
            Length("centrelineRadiusMm", true),
            Length("markOffsetMm", false),
            Length("clampMm", false),
            trials.IsSuccess ? trials.Value : [],
            form["note"]
        );
        if (wrong.Any)
        {
            errors = ((Failure.Invalid)wrong.ToFailure()).Errors;
            return;
        }

        isBusy = true;
        var outcome = changing is { } die
            ? await keep.ChangeAsync(die.Id, request, Envelope(NewKey(), die.Version), Closing)
            : await keep.AddAsync(request, Envelope(NewKey()), Closing);
        isBusy = false;
        if (outcome.Failure is { } failure)
        {
            errors = failure is Failure.Invalid ? BenchBender.Placed(failure) : [new FieldError("", failure.Sentence)];
            return;
        }

        Close();
        await ReloadAsync();

        double? Length(string name, bool isNeeded)
        {
            var text = form![name];
            if (string.IsNullOrWhiteSpace(text))
            {
                wrong.AddIf(isNeeded, name, "This length is needed.");
                return null;
            }

            var isLength = LengthText.TryReadMm(text, unit, out var millimetres);
            wrong.AddIf(!isLength, name, "This is not a length. Write it like 44.45, 1 3/4 or 38 mm.");
            return millimetres;
        }
    }

    private async Task RetireAsync(BenderDieView die)
    {
        var outcome = await keep.RetireAsync(die.Id, Envelope(NewKey(), die.Version), Closing);
        if (Accepted(outcome, out _, $"{die.Name} is out of use."))
        {
            await ReloadAsync();
        }
    }

    private string Typed(double? millimetres) => millimetres is { } mm ? BenchValues.Written(mm, unit) : "";

    private static string Said(double millimetres) => BenchLengths.Say(millimetres, BenchLengths.Tapes[0]);

    private string? Say(string name) => errors.FirstOrDefault(e => e.Path == name)?.Text;
}
