using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;

namespace ShopFloor.Domain.Tests.Diary;

/// <summary>A time that is agreed, confirmed, moved; a reminder that is written and ticked off.</summary>
public sealed class AppointmentTests
{
    private static readonly DateOnly Today = new(2026, 6, 10);
    private static readonly DateTimeOffset Now = new(2026, 6, 10, 9, 0, 0, TimeSpan.Zero);

    [Fact]
    public void What_is_confirmed_is_exactly_what_was_shown()
    {
        var time = Comes();
        var shown = time.ContentHash;
        Assert.True(time.Move(Today.AddDays(3), new TimeOnly(9, 0)));
        Assert.Equal(
            "moved",
            Assert.IsType<Failure.Refused>(time.Confirm("Ada", shown, Today, Now).Failure).Reasons[0].Code
        );
        Assert.Null(time.Answer);
        Assert.True(time.Confirm("Ada Kremer", time.ContentHash, Today, Now).IsSuccess);
        Assert.Equal((AppointmentAnswer.Confirmed, "Ada Kremer"), (time.Answer, time.ConfirmedBy));
        // Moved there and back, it is another appointment: it has to be confirmed again.
        Assert.True(time.Move(Today.AddDays(2), null));
        Assert.Null(time.Answer);
        Assert.NotEqual(shown, time.ContentHash);
        Assert.False(time.Move(Today.AddDays(2), null));
        Assert.Equal(2, time.Moves);
    }

    [Fact]
    public void A_name_is_needed_and_a_day_that_is_over_takes_no_answer()
    {
        var time = Comes();
        Assert.Equal(
            "name",
            Assert.IsType<Failure.Invalid>(time.Confirm(" ", time.ContentHash, Today, Now).Failure).Errors[0].Path
        );
        var late = time.AskOther(time.ContentHash, Today.AddDays(9), Now).Failure;
        Assert.Equal("past", Assert.IsType<Failure.Refused>(late).Reasons[0].Code);
        Assert.True(time.AskOther(time.ContentHash, Today, Now).IsSuccess);
        Assert.Equal((AppointmentAnswer.OtherAsked, null), (time.Answer, time.ConfirmedBy));
    }

    [Theory]
    [InlineData("2026-06-09", "08:30", "day")]
    [InlineData(null, null, "day")]
    [InlineData("2036-06-09", null, "day")]
    [InlineData("2026-06-11", "25:00", "time")]
    [InlineData("2026-06-11", "half past", "time")]
    public void Days_and_times_that_are_none_are_said_at_their_field(string? day, string? time, string path)
    {
        var read = Appointment.Read(
            day is null ? null : DateOnly.Parse(day, System.Globalization.CultureInfo.InvariantCulture),
            time,
            Today
        );
        Assert.Equal(path, Assert.IsType<Failure.Invalid>(read.Failure).Errors[0].Path);
    }

    [Fact]
    public void A_reminder_may_stay_on_its_day_when_that_is_over_but_not_move_to_one_that_is()
    {
        var reminder = Reminder
            .Write(
                new ReminderId(Guid.CreateVersion7()),
                new Reminder.Details("Order belts", Today, "08:30"),
                null,
                null,
                null,
                Today
            )
            .Value;
        var later = Today.AddDays(4);
        Assert.True(reminder.Change(new Reminder.Details("Order two belts", Today, "08:30"), later).Value);
        Assert.False(reminder.Change(new Reminder.Details("Order two belts", Today, "08:30"), later).Value);
        Assert.IsType<Failure.Invalid>(
            reminder.Change(new Reminder.Details("Order two belts", Today.AddDays(1)), later).Failure
        );
        Assert.Equal(Today, reminder.Day);
        Assert.True(reminder.Settle(null, Now));
        Assert.False(reminder.Settle(null, Now));
        Assert.True(reminder.Reopen());
        Assert.False(reminder.Reopen());
        Assert.IsType<Failure.Invalid>(
            reminder.Change(new Reminder.Details(new string('x', Reminder.LongestText + 1), later), later).Failure
        );
    }

    private static Appointment Comes() =>
        Appointment.Of(
            new AppointmentId(Guid.CreateVersion7()),
            new JobId(Guid.CreateVersion7()),
            AppointmentKind.DropOff,
            Today.AddDays(2),
            new TimeOnly(8, 30)
        );
}
