using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Workbench;

/// <summary>The workbench's papers and outlines. Everything is already figured; nothing is looked up here.</summary>
public interface IWorkbenchPapers
{
    /// <summary>How many sheets the wrap itself takes; above <see cref="WrapLimits.MostSheets"/> it is not written.</summary>
    int SheetsOfWrap(WrapTemplate template, PaperSize size);

    /// <summary>A PDF at exactly 1:1.</summary>
    byte[] Wrap(WrapTemplate template, PaperSettings settings);

    /// <summary>The wrap's outline in millimetres, for a cutter.</summary>
    string WrapSvg(WrapTemplate template);

    /// <summary>The same as DXF R12 (AC1009), an open format; units are millimetres.</summary>
    string WrapDxf(WrapTemplate template);

    byte[] Bends(BendCard card, PaperSettings settings);

    byte[] HingeCuts(HingeCard card, PaperSettings settings);

    byte[] SkipWelds(SkipWeldCard card, PaperSettings settings);

    byte[] SawCuts(SawCard card, PaperSettings settings);
}

/// <summary>What a printed wrap may come to.</summary>
public static class WrapLimits
{
    /// <summary>More sheets than this cannot be joined true; draw the outline with a cutter instead.</summary>
    public const int MostSheets = 12;
}
