using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Papers.Writers;

internal static class AuthorisationWriter
{
    private const string Title = "Authorisation to cut and weld";

    public static byte[] Write(AuthorisationPaper paper, PaperSettings settings)
    {
        using var sheet = new Sheet(settings, new SheetTitle(paper.Shop.Name, Title, paper.Reference));
        Blocks.Letterhead(
            sheet,
            paper.Shop,
            Title,
            [new("Reference", paper.Reference), new("Date", Sheet.Day(paper.Date))]
        );
        Blocks.PartyAndCar(sheet, "Customer", paper.Customer, paper.Car);
        List(sheet, "Work that is authorised", paper.Work);
        if (paper.Found.Count > 0)
        {
            sheet.Heading("Condition as found");
            Blocks.Facts(sheet, paper.Found);
        }

        List(sheet, "Stays fitted while the work is done", paper.StaysFitted);
        List(sheet, "The customer brings", paper.CustomerParts);
        sheet.Heading("What the car is for");
        sheet.Paragraph(paper.Use, TextStyle.Body);
        foreach (var rules in paper.RuleSets)
        {
            var read = rules.ReadOn is { } day ? $", figures read {Sheet.Day(day)}" : "";
            sheet.Item("•", $"{rules.Name}, {rules.Edition}{read}", TextStyle.Body);
        }

        Blocks.CautionBox(sheet, "Before you sign: on the road", Cautions.RoadUse.Select(c => c.Text), false);
        Blocks.CautionBox(sheet, "During the work", Cautions.Work.Select(c => c.Text), true);
        Consent(sheet, paper);
        return sheet.Finish();
    }

    private static void Consent(Sheet sheet, AuthorisationPaper paper)
    {
        // The words that are signed stay on the page that carries the signature.
        sheet.Ensure(Sheet.Mm(78));
        sheet.Heading("Declaration");
        sheet.Paragraph(
            "I own this car or act for its owner. I authorise the shop to cut, grind and weld it as described above. I know that cutting and "
                + "welding cannot be undone. I have read the cautions and what changes on the road, and I had the chance to ask.",
            TextStyle.Body
        );
        sheet.Space(1);
        sheet.Paragraph(
            paper.MayPublishPhotos switch
            {
                true => "☑ The shop may publish photos of the car without my name or registration.",
                false => "☑ The shop may not publish photos of the car.",
                null =>
                    "Photos of the car without my name or registration:   ☐ may be published   ☐ may not be published",
            },
            TextStyle.Body
        );
        sheet.Space(2);
        Blocks.Signature(sheet, "customer", paper.Signature);
        if (paper.Signature is null)
        {
            sheet.Space(2);
            Blocks.Signature(sheet, "shop", null);
        }
    }

    private static void List(Sheet sheet, string heading, IReadOnlyList<string> items)
    {
        if (items.Count == 0)
        {
            return;
        }

        sheet.Heading(heading);
        foreach (var item in items)
        {
            sheet.Item("•", item, TextStyle.Body);
        }
    }
}
