using System.Text.Json;
using ShopFloor.Web.Features.History;

namespace ShopFloor.Web.Tests.Common;

/// <summary>What the history says of an event.</summary>
public sealed class EventWordsTests
{
    [Theory]
    [InlineData("operation.finished", "Operation finished")]
    [InlineData("signOff.withdrawn", "Sign off withdrawn")]
    [InlineData("account.deposit", "Deposit taken")]
    public void An_event_is_said_in_words(string type, string words) => Assert.Equal(words, EventWords.Of(type));

    [Theory]
    [InlineData("""{"after":{"number":"I-2026-0001","totalMinor":5},"before":null}""", "I-2026-0001")]
    [InlineData("""{"after":{"detail":null,"state":{"code":"140","running":0}}}""", "140")]
    [InlineData("""{"after":{"line":"hoop-upright","operation":"120","result":"passed"}}""", "120 hoop-upright passed")]
    [InlineData("""{"after":null,"before":null}""", null)]
    [InlineData("""{"after":{"roles":["owner"]}}""", null)]
    [InlineData("[]", null)]
    public void An_event_names_what_it_was_about_where_its_data_do(string data, string? about)
    {
        using var document = JsonDocument.Parse(data);
        Assert.Equal(about, EventWords.About(document.RootElement));
    }
}
