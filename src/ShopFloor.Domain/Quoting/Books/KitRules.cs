using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>Checks kits with their parts, and hinge options.</summary>
internal static class KitRules
{
    /// <summary>Sizes of parts, in mm.</summary>
    private const decimal LargestMm = 20_000;
    private const decimal LargestKg = 1_000;

    internal static void Check(PriceBook book, FieldErrors errors)
    {
        for (var i = 0; i < book.Kits.Count; i++)
        {
            var (kit, path) = (book.Kits[i], $"kits[{i}]");
            CheckTexts(kit.Contents, path + ".contents", errors);
            TotalsRules.CheckAmount(kit.LabourCostMinor, path + ".labourCostMinor", "The cost", errors);
            PriceBookRules.CheckCodes(kit.Parts.Select(p => (p.Code, p.Title)), path + ".parts", 0, errors);
            for (var j = 0; j < kit.Parts.Count; j++)
            {
                CheckPart(kit.Parts[j], $"{path}.parts[{j}]", errors);
            }

            PriceBookRules.CheckCount(kit.Welds.Count, path + ".welds", errors);
            for (var j = 0; j < kit.Welds.Count; j++)
            {
                CheckWeld(kit.Welds[j], $"{path}.welds[{j}]", errors);
            }
        }

        for (var i = 0; i < book.HingeOptions.Count; i++)
        {
            CheckHinge(book, book.HingeOptions[i], $"hingeOptions[{i}]", errors);
        }
    }

    /// <summary>Work that the book adds to the route: known standard and skill, quantity in range.</summary>
    internal static void CheckWork(PriceBook book, IReadOnlyList<AddedWork> work, string path, FieldErrors errors)
    {
        PriceBookRules.CheckCount(work.Count, path, errors);
        for (var i = 0; i < work.Count; i++)
        {
            TextRules.Required(
                work[i].OperationCode,
                $"{path}[{i}].operationCode",
                "The operation's number",
                TextRules.Code,
                errors
            );
            errors.AddIf(
                book.FindStandard(work[i].StandardCode) is null,
                $"{path}[{i}].standardCode",
                $"There is no labour standard '{work[i].StandardCode}' in this book."
            );
            errors.AddIf(
                work[i].Skill is { } skill && book.FindSkill(skill) is null,
                $"{path}[{i}].skill",
                $"There is no skill '{work[i].Skill}' in this book."
            );
            TotalsRules.CheckQuantity(work[i].Quantity, $"{path}[{i}].quantity", errors);
        }
    }

    private static void CheckPart(KitPart part, string path, FieldErrors errors)
    {
        TotalsRules.CheckQuantity(part.Quantity, path + ".quantity", errors);
        TotalsRules.CheckAmount(part.CostMinor, path + ".costMinor", "The cost", errors);
        TextRules.Optional(part.Material, path + ".material", "The material", TextRules.ShortText, errors);
        var (needed, what) = part.Kind switch
        {
            KitPartKind.Tube => (
                new (string Name, decimal? Value)[]
                {
                    ("outsideDiameterMm", part.OutsideDiameterMm),
                    ("wallMm", part.WallMm),
                    ("lengthMm", part.LengthMm),
                },
                "A tube has an outside diameter, a wall and a length"
            ),
            KitPartKind.Plate => (
                [("lengthMm", part.LengthMm), ("widthMm", part.WidthMm), ("thicknessMm", part.ThicknessMm)],
                "A plate has a length, a width and a thickness"
            ),
            _ => ([("massKg", part.MassKg)], "Hardware has a mass"),
        };
        foreach (var (name, value) in needed)
        {
            errors.AddIf(
                value is not (> 0 and <= LargestMm),
                $"{path}.{name}",
                $"{what}; give each over 0 and at most {LargestMm}."
            );
        }

        errors.AddIf(
            part is { Kind: KitPartKind.Tube, WallMm: { } wall, OutsideDiameterMm: { } od } && wall * 2 >= od,
            path + ".wallMm",
            "The wall must be under half the outside diameter."
        );
        errors.AddIf(
            part.MassKg is <= 0 or > LargestKg,
            path + ".massKg",
            $"A part's mass is over 0 and at most {LargestKg} kg."
        );
    }

    private static void CheckWeld(KitWeld weld, string path, FieldErrors errors)
    {
        TextRules.Required(weld.Where, path + ".where", "Where the weld is", TextRules.ShortText, errors);
        TextRules.Required(weld.Process, path + ".process", "The process", TextRules.Code, errors);
        TextRules.Required(weld.Position, path + ".position", "The position", TextRules.Code, errors);
        errors.AddIf(
            weld.LengthMm is <= 0 or > 1_000_000,
            path + ".lengthMm",
            "A weld is over 0 and at most 1,000,000 mm long."
        );
    }

    private static void CheckHinge(PriceBook book, HingeOption hinge, string path, FieldErrors errors)
    {
        TextRules.Optional(hinge.Description, path + ".description", "The description", TextRules.ShortText, errors);
        CheckTexts(hinge.Hardware, path + ".hardware", errors);
        TotalsRules.CheckAmount(hinge.CostMinor, path + ".costMinor", "The cost", errors);
        errors.AddIf(hinge.MassKg is < 0 or > LargestKg, path + ".massKg", $"The mass is from 0 to {LargestKg} kg.");
        errors.AddIf(
            hinge.InsertLengthMm is <= 0 or > LargestMm
                || hinge.BodyLengthMm is <= 0 or > LargestMm
                || hinge.ClearanceMm is < 0 or > LargestMm,
            path,
            $"Lengths of a hinge are over 0 (its clearance may be 0) and at most {LargestMm} mm."
        );
        errors.AddIf(
            hinge.InsertLengthMm is null != hinge.BodyLengthMm is null,
            path + ".bodyLengthMm",
            "A hinge that is cut in has both an insert length and a body length."
        );
        CheckWork(book, hinge.Work, path + ".work", errors);
    }

    private static void CheckTexts(IReadOnlyList<string> texts, string path, FieldErrors errors)
    {
        PriceBookRules.CheckCount(texts.Count, path, errors);
        for (var i = 0; i < texts.Count; i++)
        {
            TextRules.Required(texts[i], $"{path}[{i}]", "The text", TextRules.ShortText, errors);
        }
    }
}
