using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Web.Features.RuleSets;

/// <summary>Words and glyphs of rule sets on screens.</summary>
internal static class RuleSetWords
{
    public static string Glyph(FigureMark mark) =>
        mark switch
        {
            FigureMark.Read => "●",
            FigureMark.Quoted => "◐",
            FigureMark.FromMemory => "○",
            _ => "◇",
        };

    public static string Glyph(FigureChangeKind kind) =>
        kind switch
        {
            FigureChangeKind.Added => "+",
            FigureChangeKind.Removed => "−",
            _ => "≠",
        };

    public static string Word(FigureChangeKind kind) =>
        kind switch
        {
            FigureChangeKind.Added => "added",
            FigureChangeKind.Removed => "taken out",
            _ => "changed",
        };

    public static string Word(RuleSetOrigin origin) =>
        origin switch
        {
            RuleSetOrigin.Shipped => "came with the program",
            RuleSetOrigin.Copied => "copied from another set",
            RuleSetOrigin.Edited => "changed here",
            _ => "brought in as a file",
        };
}
