using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;

namespace ShopFloor.Data.Configurations.Diary;

internal sealed class AppointmentConfiguration : IEntityTypeConfiguration<Appointment>
{
    public void Configure(EntityTypeBuilder<Appointment> builder)
    {
        builder.ToTable("Appointments");
        builder.HasKey(a => a.Id);
        builder.Property(a => a.Id).ValueGeneratedNever();
        builder.Property(a => a.ConfirmedBy).HasMaxLength(TextRules.Name);
        builder.HasIndex(a => new { a.JobId, a.Kind }).IsUnique();
    }
}

internal sealed class ReminderConfiguration : IEntityTypeConfiguration<Reminder>
{
    public void Configure(EntityTypeBuilder<Reminder> builder)
    {
        builder.ToTable("Reminders");
        builder.HasKey(r => r.Id);
        builder.Property(r => r.Id).ValueGeneratedNever();
        builder.Property(r => r.Text).HasMaxLength(Reminder.LongestText);
        builder.HasIndex(r => new { r.DoneAt, r.Day });
        builder.HasIndex(r => r.CustomerId);
    }
}
