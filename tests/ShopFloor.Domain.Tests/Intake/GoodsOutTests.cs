using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Domain.Tests.Intake;

public sealed class GoodsOutTests
{
    private static readonly DateTimeOffset Now = new(2026, 5, 8, 14, 0, 0, TimeSpan.Zero);
    private static readonly DateOnly Opened = new(2026, 5, 4);
    private static readonly DateOnly Today = new(2026, 5, 8);
    private static readonly SignatureDetails Signed = new(SignatureKind.PrintedSheet, "Ada Kremer");

    private static readonly GoodsOutDetails Sent = new(
        GoodsWay.Sent,
        Today,
        2,
        "Saddleback Carriers",
        "SBC 1",
        31.5m,
        "Ada Kremer, 1 Cross Lane",
        null,
        null
    );

    private static readonly GoodsOutDetails Collected = new(
        GoodsWay.Collected,
        Today,
        1,
        null,
        null,
        null,
        null,
        null,
        Signed
    );

    [Fact]
    public void What_is_sent_keeps_carrier_number_mass_and_address_and_the_balance_of_that_moment()
    {
        var goods = Record(Sent).Value;

        Assert.Equal(("Saddleback Carriers", "SBC 1", 31.5m), (goods.Carrier, goods.ConsignmentNumber, goods.MassKg));
        Assert.Equal((1250L, "GBP"), (goods.BalanceMinor, goods.BalanceCurrency));
        Assert.Null(goods.Signature);
    }

    [Fact]
    public void What_is_collected_is_signed_for_and_need_not_be_weighed()
    {
        var goods = Record(Collected).Value;

        Assert.Equal("Ada Kremer", goods.Signature!.SignedBy);
        Assert.Null(goods.MassKg);
        Assert.Equal(["signature"], Paths(Collected with { Signature = null }));
        Assert.Equal(["sentTo"], Paths(Collected with { SentTo = "Somewhere" }));
    }

    [Fact]
    public void What_is_sent_needs_everything_a_lost_parcel_is_searched_by()
    {
        var bare = Sent with { Carrier = " ", ConsignmentNumber = null, MassKg = null, SentTo = null };

        Assert.Equal(["carrier", "consignmentNumber", "massKg", "sentTo"], Paths(bare));
        Assert.Equal(["signature"], Paths(Sent with { Signature = Signed }));
    }

    [Theory]
    [InlineData(0, 1)]
    [InlineData(-0.5, 1)]
    [InlineData(10_000.001, 1)]
    [InlineData(1.0005, 1)]
    [InlineData(0.001, 0)]
    [InlineData(10_000, 0)]
    public void The_mass_lies_between_a_gram_and_ten_tonnes_in_whole_grams(double kg, int errors) =>
        Assert.Equal(errors, Paths(Sent with { MassKg = (decimal)kg }).Count);

    [Theory]
    [InlineData("2026-05-03", 1)]
    [InlineData("2026-05-04", 0)]
    [InlineData("2026-05-08", 0)]
    [InlineData("2026-05-09", 1)]
    public void It_leaves_between_the_jobs_first_day_and_today(string day, int errors) =>
        Assert.Equal(
            errors,
            Paths(Sent with { On = DateOnly.Parse(day, System.Globalization.CultureInfo.InvariantCulture) }).Count
        );

    [Theory]
    [InlineData(0, 1)]
    [InlineData(1, 0)]
    [InlineData(GoodsOut.MostParcels, 0)]
    [InlineData(GoodsOut.MostParcels + 1, 1)]
    public void Parcels_are_counted(int parcels, int errors) =>
        Assert.Equal(errors, Paths(Sent with { Parcels = parcels }).Count);

    [Fact]
    public void Erased_it_names_nobody_but_still_says_how_and_when_it_went()
    {
        var sent = Record(Sent with { Note = "Ask for Ada" }).Value;
        var collected = Record(Collected).Value;

        sent.ErasePersonalData();
        collected.ErasePersonalData();

        Assert.Equal((Customer.ErasedName, null, "SBC 1"), (sent.SentTo, sent.Note, sent.ConsignmentNumber));
        Assert.Equal(Customer.ErasedName, collected.Signature!.SignedBy);
        Assert.Null(collected.SentTo);
    }

    private static List<string> Paths(GoodsOutDetails details) =>
        Record(details).Failure is Failure.Invalid invalid ? [.. invalid.Errors.Select(e => e.Path).Order()] : [];

    private static Outcome<GoodsOut> Record(GoodsOutDetails details) =>
        GoodsOut.Record(
            GoodsOutId.From(new Guid("01950000-0000-7000-8000-000000000002")),
            JobId.From(new Guid("01950000-0000-7000-8000-000000000001")),
            details,
            Opened,
            Today,
            new Money(1250, Currency.Of("GBP")),
            Now
        );
}
