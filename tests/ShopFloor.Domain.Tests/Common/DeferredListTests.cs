using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Tests.Common;

public sealed class DeferredListTests
{
    [Fact]
    public void List_is_made_once_and_only_when_it_is_read()
    {
        var made = 0;
        var list = new DeferredList<string>(
            2,
            () =>
            {
                made++;
                return ["left", "right"];
            }
        );

        Assert.Equal(2, list.Count);
        Assert.Equal(0, made);
        Assert.Equal("right", list[1]);
        Assert.Equal(["left", "right"], list);
        Assert.Equal(1, made);
    }
}
