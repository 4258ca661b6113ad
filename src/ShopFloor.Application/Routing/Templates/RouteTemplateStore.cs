using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Quoting;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>Finds editions of route templates and judges them against the rest of the shop's data; shared by the reads and the commands.</summary>
public sealed class RouteTemplateStore(RouteLibrary library, InspectionLibrary inspections) : IUseCase
{
    /// <summary>Kinds of sale that have a route without being a kit of the price book.</summary>
    private static readonly string[] KindsOfSale = ["return-visit", "bench-work", "kit-shipped"];

    internal static Task<RouteEdition?> DraftAsync(ShopDbContext db, string code, CancellationToken ct) =>
        db.Set<RouteEdition>()
            .SingleOrDefaultAsync(e => e.TemplateCode == code && e.State == RouteEditionState.Draft, ct);

    /// <summary>An edition in force: the one named, or the newest. A shipped template that the shop has not stored counts too.</summary>
    internal async Task<RouteTemplate?> InForceAsync(ShopDbContext db, string code, int? edition, CancellationToken ct)
    {
        var stored = await db.Set<RouteEdition>()
            .AsNoTracking()
            .Where(e =>
                e.TemplateCode == code
                && e.State == RouteEditionState.InForce
                && (edition == null || e.Edition == edition)
            )
            .OrderByDescending(e => e.Edition)
            .FirstOrDefaultAsync(ct);
        return stored?.Template
            ?? library.Shipped.FirstOrDefault(t => t.Code == code && (edition is null || t.Edition == edition));
    }

    /// <summary>Everything that stands in the way of using a template: its own problems, inspection lines of operations it does not have, skills and standards nobody prices, kits that another template builds.</summary>
    internal async Task<IReadOnlyList<FieldError>> ProblemsAsync(
        ShopDbContext db,
        RouteTemplate template,
        DateOnly today,
        CancellationToken ct
    )
    {
        await library.RefreshAsync(db, ct);
        await inspections.RefreshAsync(db, ct);
        List<FieldError> problems = [.. RouteTemplateCheck.Problems(template)];
        problems.AddRange(
            inspections
                .Plans.Where(p => template.Kits.Any(p.IsFor))
                .SelectMany(p => HoldOrder.Problems(p.Document, template))
        );
        var codes = template.Operations.Select(o => o.Code).ToHashSet(StringComparer.Ordinal);
        problems.AddRange(
            LinesOf(template)
                .Where(l => !codes.Contains(l.Operation))
                .Select(l => new FieldError(
                    "operations",
                    $"The inspection line {l.Code} ({l.What}) belongs to operation {l.Operation}, which this route does not have."
                ))
        );
        problems.AddRange(await UnknownPicturesAsync(db, template, ct));
        foreach (var (i, kit) in template.Kits.Index())
        {
            if (library.Templates.FirstOrDefault(t => t.Code != template.Code && t.Kits.Contains(kit)) is { } other)
            {
                problems.Add(
                    new FieldError($"kits[{i}]", $"The kit {kit} is built by the route {other.Code} already.")
                );
            }
        }

        if ((await PriceBooks.InForceAsync(db, today, ct))?.Book is { } book)
        {
            problems.AddRange(Unpriced(template, book));
            problems.AddRange(RouteConditionCheck.Problems(template, book));
        }

        return problems;
    }

    internal static async Task<RouteChoices> ChoicesAsync(
        ShopDbContext db,
        RouteTemplate template,
        DateOnly today,
        CancellationToken ct
    )
    {
        var book = (await PriceBooks.InForceAsync(db, today, ct))?.Book;
        return new RouteChoices(
            [
                .. (book?.Skills.Select(s => s.Code) ?? [])
                    .Concat(template.Operations.Select(o => o.Skill))
                    .Where(s => s.Length > 0)
                    .Distinct(),
            ],
            [.. (book?.Standards.Select(s => s.Code) ?? []).Order(StringComparer.Ordinal)],
            [.. (book?.Kits.Select(k => k.Code) ?? []).Concat(KindsOfSale).Concat(template.Kits).Distinct()]
        )
        {
            Uses = [.. (book?.Uses ?? []).Select(u => new RouteChoice(u.Code, u.Title))],
            Hinges = [.. (book?.HingeOptions ?? []).Select(h => new RouteChoice(h.Code, h.Title))],
            Questions =
            [
                .. (book?.Questions ?? []).Select(q => new RouteQuestion(
                    q.Code,
                    q.Title,
                    [.. q.Answers.Select(a => new RouteChoice(a.Code, a.Title))]
                )),
            ],
        };
    }

    /// <summary>Inspection lines of the plans for a template's kits.</summary>
    internal IReadOnlyList<TemplateLine> LinesOf(RouteTemplate template) =>
        [
            .. template
                .Kits.SelectMany(kit =>
                    inspections
                        .Plans.Where(p => p.IsFor(kit))
                        .SelectMany(p => p.Document.Lines.Where(l => l.Kits is null || l.Kits.Contains(kit)))
                )
                .DistinctBy(l => l.Code)
                .Select(l => new TemplateLine(l.Code, l.Operation, l.What, l.Point == InspectionPoint.Hold)),
        ];

    internal static EventDraft Event(string type, RouteEdition edition, object? before = null) =>
        new(
            type,
            "routeTemplate",
            edition.Id.Value,
            Before: before,
            After: new
            {
                template = edition.TemplateCode,
                edition = edition.Edition,
                fromEdition = edition.FromEdition,
                operations = edition.Template.Operations.Select(o => o.Code),
            }
        );

    /// <summary>A document from elsewhere may name pictures that this shop does not have.</summary>
    private static async Task<IReadOnlyList<FieldError>> UnknownPicturesAsync(
        ShopDbContext db,
        RouteTemplate template,
        CancellationToken ct
    )
    {
        var named = template
            .Operations.SelectMany(o => o.Pictures)
            .Select(p => new RoutePictureId(p.Id))
            .Distinct()
            .ToList();
        var have = await db.Set<RoutePicture>().Where(p => named.Contains(p.Id)).Select(p => p.Id).ToListAsync(ct);
        return
        [
            .. template.Operations.SelectMany(
                (o, i) =>
                    o
                        .Pictures.Index()
                        .Where(p => !have.Contains(new RoutePictureId(p.Item.Id)))
                        .Select(p => new FieldError(
                            $"operations[{i}].pictures[{p.Index}].id",
                            $"{o.Code}: the picture \"{p.Item.Caption}\" is not in this shop. Take it out, or upload it here."
                        ))
            ),
        ];
    }

    private static IEnumerable<FieldError> Unpriced(RouteTemplate template, PriceBook book)
    {
        var skills = book.Skills.Select(s => s.Code).ToHashSet(StringComparer.Ordinal);
        var standards = book.Standards.Select(s => s.Code).ToHashSet(StringComparer.Ordinal);
        foreach (var (i, operation) in template.Operations.Index())
        {
            if (operation.Skill.Length > 0 && !skills.Contains(operation.Skill))
            {
                yield return new FieldError(
                    $"operations[{i}].skill",
                    $"{operation.Code}: the price book has no skill {operation.Skill}; it has {string.Join(", ", skills)}."
                );
            }

            foreach (var (j, work) in operation.Work.Index())
            {
                if (!standards.Contains(work.Standard))
                {
                    yield return new FieldError(
                        $"operations[{i}].work[{j}].standard",
                        $"{operation.Code}: the price book has no labour standard {work.Standard}."
                    );
                }
            }
        }
    }
}
