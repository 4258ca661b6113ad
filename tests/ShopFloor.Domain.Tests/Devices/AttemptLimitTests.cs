using ShopFloor.Domain.Common;
using ShopFloor.Domain.Devices;

namespace ShopFloor.Domain.Tests.Devices;

public sealed class AttemptLimitTests
{
    private static readonly DateTimeOffset Noon = new(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);
    private static readonly PersonId Mara = PersonId.From(new Guid("00000000-0000-7000-8000-00000000000a"));

    [Fact]
    public void Wrong_links_are_forgotten_after_an_hour_and_pauses_after_a_quiet_one()
    {
        var rule = AttemptRule.OfLinksFrom;
        var limit = new AttemptLimit(AttemptLimit.OfLinksFrom("somewhere"));
        var now = Noon;
        // One an hour, by whoever kept an old link, never adds up.
        for (var n = 0; n < 3 * rule.Tries; n++, now += rule.Window!.Value)
        {
            limit.Fail(rule, now);
        }

        Assert.False(limit.IsPaused(now));
        var pauses = new List<TimeSpan>();
        for (var round = 0; round < 6; round++, now = limit.PausedUntil!.Value)
        {
            for (var n = 0; n < rule.Tries; n++)
            {
                limit.Fail(rule, now);
            }

            pauses.Add(limit.PausedUntil!.Value - now);
        }

        Assert.Equal([15, 30, 60, 120, 120, 120], pauses.Select(p => p.TotalMinutes));
        now += rule.Window!.Value;
        for (var n = 0; n < rule.Tries; n++)
        {
            limit.Fail(rule, now);
        }

        Assert.Equal(rule.FirstPause, limit.PausedUntil - now);
    }

    [Fact]
    public void Each_pause_is_twice_as_long_as_the_one_before_up_to_a_day()
    {
        var limit = new AttemptLimit(AttemptLimit.OfPerson(Mara));
        var now = Noon;
        var pauses = new List<TimeSpan>();
        for (var round = 0; round < 12; round++)
        {
            for (var n = 0; n < AttemptRule.OfPerson.Tries; n++)
            {
                Assert.False(limit.IsPaused(now));
                limit.Fail(AttemptRule.OfPerson, now);
            }

            Assert.True(limit.IsPaused(now));
            pauses.Add(limit.PausedUntil!.Value - now);
            now = limit.PausedUntil.Value;
        }

        Assert.Equal(AttemptRule.OfPerson.FirstPause, pauses[0]);
        Assert.Equal(pauses[0] * 2, pauses[1]);
        Assert.Equal(pauses[0] * 4, pauses[2]);
        Assert.Equal(TimeSpan.FromDays(1), pauses[^1]);
    }

    [Fact]
    public void A_right_try_begins_anew()
    {
        var limit = new AttemptLimit(AttemptLimit.Codes);
        for (var n = 0; n < AttemptRule.OfAddress.Tries - 1; n++)
        {
            limit.Fail(AttemptRule.OfAddress, Noon);
        }

        limit.Reset();
        limit.Fail(AttemptRule.OfAddress, Noon);

        Assert.False(limit.IsPaused(Noon));
        Assert.Equal(1, limit.Failed);
    }

    [Fact]
    public void One_address_cannot_reach_the_limit_of_all_within_a_day_and_that_pause_does_not_grow()
    {
        var (own, all) = (new AttemptLimit(AttemptLimit.OfCodesFrom("a")), new AttemptLimit(AttemptLimit.Codes));
        for (var now = Noon; now < Noon.AddDays(1); now = now.AddSeconds(10))
        {
            if (!own.IsPaused(now))
            {
                own.Fail(AttemptRule.OfAddress, now);
                all.Fail(AttemptRule.OfAllAddresses, now);
            }

            Assert.False(all.IsPaused(now));
        }

        Assert.InRange(all.Failed, 10, 100);
        for (var round = 0; round < 3; round++)
        {
            for (var n = all.Failed; n < AttemptRule.OfAllAddresses.Tries; n++)
            {
                all.Fail(AttemptRule.OfAllAddresses, Noon);
            }

            Assert.Equal(Noon + AttemptRule.OfAllAddresses.FirstPause, all.PausedUntil);
        }
    }

    [Theory]
    [InlineData("4820", true)]
    [InlineData("48201937", true)]
    [InlineData("482", false)]
    [InlineData("482019375", false)]
    [InlineData("48a0", false)]
    [InlineData("٤٨٢٠", false)]
    [InlineData("7777", false)]
    [InlineData("1234", false)]
    [InlineData("98765", false)]
    [InlineData("", false)]
    [InlineData(null, false)]
    public void A_pin_has_four_to_eight_digits_and_is_not_guessed_first(string? pin, bool isTaken) =>
        Assert.Equal(isTaken, PersonPin.Problem(pin) is null);

    [Fact]
    public void A_code_serves_once_and_for_a_quarter_of_an_hour()
    {
        var code = new EnrolmentCode(EnrolmentCodeId.From(Mara.Value), "hash", Mara, Noon);

        Assert.True(code.IsGood(Noon.AddMinutes(14)));
        Assert.False(code.IsGood(Noon.AddMinutes(15)));
        code.Use(Noon);
        Assert.False(code.IsGood(Noon.AddMinutes(1)));
    }
}
