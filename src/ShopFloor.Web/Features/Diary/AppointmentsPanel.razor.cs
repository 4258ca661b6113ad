using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Diary;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;

namespace ShopFloor.Web.Features.Diary;

/// <summary>The two appointments of a job at the front desk.</summary>
public partial class AppointmentsPanel(AgreeAppointment agree, ReadDiary readDiary)
{
    private readonly List<Row> rows =
    [
        new(AppointmentKind.DropOff, "drop-off"),
        new(AppointmentKind.Collection, "collection"),
    ];
    private bool isBusy;

    [Parameter, EditorRequired]
    public JobId Job { get; set; }

    /// <summary>The job is open and its car comes here.</summary>
    [Parameter]
    public bool CanAgree { get; set; }

    protected override Guid? Subject => Job.Value;

    protected override void Restart() => rows.ForEach(r => r.Show(AppointmentView.None));

    protected override async Task<Failure?> LoadAsync()
    {
        foreach (var row in rows)
        {
            var outcome = await agree.ReadAsync(Job, row.Kind, Actor, Closing);
            if (!outcome.TryGet(out var view, out var failure))
            {
                return failure;
            }

            row.Read(view);
        }

        return null;
    }

    protected override bool Concerns(ChangeNotice notice) =>
        notice.JobId == Job.Value && notice.Subject is "job" or "appointment";

    /// <summary>How full the day that was typed is, before it is agreed on.</summary>
    private async Task LookAsync(Row row)
    {
        row.On = null;
        if (row.Day is not { } day)
        {
            return;
        }

        var diary = await readDiary.RunAsync(day, 1, Actor, Closing);
        // Another day may have been typed meanwhile.
        if (diary.IsSuccess && row.Day == day)
        {
            row.On = diary.Value.Days[0].Capacity;
        }
    }

    private async Task AgreeAsync(Row row)
    {
        if (isBusy)
        {
            return;
        }

        isBusy = true;
        var request = new AgreeAppointment.Request(
            row.Day,
            row.Time?.ToString(Appointment.Clock, CultureInfo.InvariantCulture)
        );
        // Version 0: nothing is agreed yet, and nobody else may have done so meanwhile.
        var envelope = Envelope(NewKey(), row.View.Version);
        var outcome = await agree.RunAsync(Job, row.Kind, request, envelope, Closing);
        isBusy = false;
        row.Errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out var view, "Agreed."))
        {
            row.Show(view);
        }
    }

    private async Task ConfirmAsync(Row row)
    {
        if (isBusy)
        {
            return;
        }

        isBusy = true;
        var envelope = Envelope(NewKey(), row.View.Version);
        if (Accepted(await agree.ConfirmAsync(Job, row.Kind, envelope, Closing), out var view, "Noted."))
        {
            row.Read(view);
        }

        isBusy = false;
    }

    /// <summary>One appointment with what is typed.</summary>
    private sealed class Row(AppointmentKind kind, string id)
    {
        public AppointmentKind Kind { get; } = kind;
        public string Id { get; } = id;
        public AppointmentView View { get; private set; } = AppointmentView.None;
        public DateOnly? Day { get; set; }
        public TimeOnly? Time { get; set; }
        public IReadOnlyList<FieldError> Errors { get; set; } = [];

        /// <summary>How full the typed day is.</summary>
        public DayCapacity? On { get; set; }

        public void Show(AppointmentView view) => (View, Day, Time) = (view, view.Day, ReadTime(view.Time));

        /// <summary>Takes over what stands now; what is half typed stays beside it.</summary>
        public void Read(AppointmentView view)
        {
            if (Day == View.Day && Time == ReadTime(View.Time))
            {
                Show(view);
            }
            else
            {
                View = view;
            }
        }

        private static TimeOnly? ReadTime(string? text) =>
            text is null ? null : TimeOnly.ParseExact(text, Appointment.Clock, CultureInfo.InvariantCulture);
    }
}
