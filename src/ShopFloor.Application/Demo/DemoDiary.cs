using ShopFloor.Application.Diary;
using ShopFloor.Domain.Diary;

namespace ShopFloor.Application.Demo;

/// <summary>What the front desk agreed on and wants to think of.</summary>
internal sealed record DemoDiaryData(
    string By,
    IReadOnlyList<DemoCollectionData> Collections,
    IReadOnlyList<DemoReminderData> Reminders
);

/// <param name="Agreed">The day on which it was agreed.</param>
internal sealed record DemoCollectionData(string Job, int Agreed, int Day, string? Time = null);

/// <param name="Written">The day on which it was written.</param>
internal sealed record DemoReminderData(int Written, int Day, string Text, string? Time = null, string? Job = null);

/// <summary>The front desk at its diary.</summary>
internal sealed class DemoDiary(DemoWorld world, IReadOnlyList<DemoJob> jobs)
{
    public async IAsyncEnumerable<DateTimeOffset> AgreeAsync(DemoDiaryData diary)
    {
        foreach (var collection in diary.Collections.OrderBy(c => c.Agreed))
        {
            yield return world.Calendar.At(collection.Agreed, 11);
            var request = new AgreeAppointment.Request(world.Calendar.Day(collection.Day), collection.Time);
            await DemoWorld.DoAsync(
                world
                    .Use<AgreeAppointment>()
                    .RunAsync(Job(collection.Job), AppointmentKind.Collection, request, world.By(diary.By), default),
                collection.Job
            );
        }
    }

    public async IAsyncEnumerable<DateTimeOffset> RememberAsync(DemoDiaryData diary)
    {
        foreach (var reminder in diary.Reminders.OrderBy(r => r.Written))
        {
            yield return world.Calendar.At(reminder.Written, 16, 20);
            var request = new KeepReminders.WriteRequest(
                reminder.Text,
                world.Calendar.Day(reminder.Day),
                reminder.Time,
                reminder.Job is { } job ? Job(job).Value : null
            );
            await DemoWorld.DoAsync(
                world.Use<KeepReminders>().WriteAsync(request, world.By(diary.By), default),
                reminder.Text
            );
        }
    }

    private Domain.Common.JobId Job(string key) => jobs.Single(j => j.Data.Key == key).Id!.Value;
}
