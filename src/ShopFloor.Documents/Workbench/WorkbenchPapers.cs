using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Workbench;

/// <summary><see cref="IWorkbenchPapers"/> on PDFsharp. Has no state: one instance serves all threads.</summary>
public sealed class WorkbenchPapers : IWorkbenchPapers
{
    public int SheetsOfWrap(WrapTemplate template, PaperSize size) => WrapTiles.Of(template, size).Count;

    public byte[] Wrap(WrapTemplate template, PaperSettings settings) => WrapWriter.Write(template, settings);

    public string WrapSvg(WrapTemplate template) => WrapVectors.Svg(template);

    public string WrapDxf(WrapTemplate template) => WrapVectors.Dxf(template);

    public byte[] Bends(BendCard card, PaperSettings settings) => BendCardWriter.Write(card, settings);

    public byte[] HingeCuts(HingeCard card, PaperSettings settings) => HingeCardWriter.Write(card, settings);

    public byte[] SkipWelds(SkipWeldCard card, PaperSettings settings) => SkipWeldCardWriter.Write(card, settings);

    public byte[] SawCuts(SawCard card, PaperSettings settings) => SawCardWriter.Write(card, settings);
}
