using ShopFloor.Domain.Intake;

namespace ShopFloor.Domain.Tests.Intake;

public class IntakeWordsTests
{
    [Fact]
    public void Every_choice_has_a_word_of_its_own()
    {
        AssertWords(Enum.GetValues<Body>().Where(b => b != Body.Unknown).Select(b => b.Title()));
        AssertWords(Enum.GetValues<SteeringSide>().Select(b => b.Title()));
        AssertWords(Enum.GetValues<Energy>().Select(b => b.Title()));
        AssertWords(Enum.GetValues<Airbags>().Select(b => b.Title()));
        AssertWords(Enum.GetValues<TankPosition>().Select(b => b.Title()));
        AssertWords(Enum.GetValues<WarningLight>().Select(b => b.Title()));
        AssertWords(Enum.GetValues<BatteryState>().Select(b => b.Title()));
        AssertWords(Enum.GetValues<PhotoConsent>().Select(b => b.Title()));
        AssertWords(Enum.GetValues<SignatureKind>().Select(b => b.Title()));
        AssertWords(Enum.GetValues<CustomerPartState>().Select(b => b.Title()));
    }

    private static void AssertWords(IEnumerable<string> words)
    {
        var list = words.ToList();
        Assert.All(list, word => Assert.False(string.IsNullOrWhiteSpace(word)));
        Assert.Equal(list.Count, list.Distinct().Count());
    }
}
