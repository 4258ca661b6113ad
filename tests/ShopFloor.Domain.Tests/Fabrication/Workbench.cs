using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Tests.Fabrication;

internal static class Workbench
{
    /// <summary>The outcome is a sentence at this field.</summary>
    public static void AssertSaid<T>(string path, Outcome<T> outcome)
    {
        var invalid = Assert.IsType<Failure.Invalid>(outcome.Failure);
        Assert.Contains(invalid.Errors, e => e.Path == path && e.Text.EndsWith('.'));
    }
}
