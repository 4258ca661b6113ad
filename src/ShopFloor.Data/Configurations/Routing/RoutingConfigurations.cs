using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Data.Configurations.Routing;

internal sealed class JobConfiguration : IEntityTypeConfiguration<Job>
{
    public void Configure(EntityTypeBuilder<Job> builder)
    {
        builder.ToTable("Jobs");
        builder.HasKey(j => j.Id);
        builder.Property(j => j.Id).ValueGeneratedNever();
        builder.Property(j => j.Number).HasMaxLength(32);
        builder.HasIndex(j => j.Number).IsUnique();
        builder.HasIndex(j => j.QuoteId).IsUnique();
        builder.HasIndex(j => new { j.State, j.PromisedOn });
        // The figures of a week ask for jobs that had not left before it.
        builder.HasIndex(j => j.EndedAt);
        builder.HasOne<Quote>().WithMany().HasForeignKey(j => j.QuoteId);
        builder.HasOne<Customer>().WithMany().HasForeignKey(j => j.CustomerId);
        builder.HasOne<Car>().WithMany().HasForeignKey(j => j.CarId);
        builder.HasOne<Job>().WithMany().HasForeignKey(j => j.ReturnOf);
        builder.Property(j => j.TemplateCode).HasMaxLength(TextRules.Code);
        builder.Property(j => j.Scope).HasJsonConversion();
        builder.Property(j => j.Ways).HasJsonConversion();
        builder.Property(j => j.OpenWays).HasJsonConversion();
        builder.Property(j => j.PromiseMoves).HasJsonConversion();
        builder.Property(j => j.Isolation).HasJsonConversion();
        builder.Property(j => j.Awaited).HasJsonConversion();
        builder.Property(j => j.OwnerHolds).HasJsonConversion();
        builder.Property(j => j.Presences).HasJsonConversion();
        builder.Property(j => j.Places).HasJsonConversion();
        builder.Property(j => j.CancelReason).HasMaxLength(Job.LongestReason);
        builder.Ignore(j => j.CurrentPhase);
        builder.Ignore(j => j.AllOver);
        builder.Ignore(j => j.HasCarHere);
        builder.HasMany(j => j.Operations).WithOne().HasForeignKey(o => o.JobId);
        builder.Navigation(j => j.Operations).HasField("operations").UsePropertyAccessMode(PropertyAccessMode.Field);
    }
}

internal sealed class OperationConfiguration : IEntityTypeConfiguration<Operation>
{
    public void Configure(EntityTypeBuilder<Operation> builder)
    {
        builder.ToTable("Operations");
        builder.HasKey(o => o.Id);
        builder.Property(o => o.Id).ValueGeneratedNever();
        builder.HasIndex(o => new { o.JobId, o.Code }).IsUnique();
        // What is in work anywhere in the shop is asked for at every gate: a few rows of all there ever were.
        builder.HasIndex(o => o.Progress).HasFilter("\"Progress\" = 'InWork'");
        builder.Property(o => o.Code).HasMaxLength(TextRules.Code);
        builder.Property(o => o.Title).HasMaxLength(TextRules.ShortText);
        builder.Property(o => o.Skill).HasMaxLength(TextRules.Code);
        builder.Property(o => o.Place).HasMaxLength(TextRules.Code);
        builder.Property(o => o.Route).HasJsonConversion();
        builder.Property(o => o.Holds).HasJsonConversion();
        builder.Property(o => o.Mends).HasMaxLength(TextRules.Code);
        builder.Property(o => o.Override).HasJsonConversion();
        builder.Property(o => o.ClosedByStart).HasJsonConversion();
        builder.Property(o => o.OpenedByFinish).HasJsonConversion();
        builder.Property(o => o.NotNeededReason).HasMaxLength(Job.LongestReason);
        builder.Ignore(o => o.Running);
        builder.Ignore(o => o.CurrentHold);
        builder.Ignore(o => o.IsOver);
        builder.Ignore(o => o.IsUnderWay);
        builder.Ignore(o => o.FinishedByWorker);
        builder.HasMany(o => o.Times).WithOne().HasForeignKey(t => t.OperationId);
        builder.Navigation(o => o.Times).HasField("times").UsePropertyAccessMode(PropertyAccessMode.Field);
    }
}

internal sealed class TimeEntryConfiguration : IEntityTypeConfiguration<TimeEntry>
{
    public void Configure(EntityTypeBuilder<TimeEntry> builder)
    {
        builder.ToTable("TimeEntries");
        builder.HasKey(t => t.Id);
        builder.Property(t => t.Id).ValueGeneratedNever();
        builder.HasIndex(t => new { t.Person, t.EndedAt });
        builder.HasIndex(t => t.StartedAt);
        builder.Property(t => t.Corrections).HasJsonConversion();
        builder.Property(t => t.Entered).HasJsonConversion();
        builder.Ignore(t => t.IsRunning);
        builder.Ignore(t => t.Worker);
    }
}

internal sealed class RouteEditionConfiguration : IEntityTypeConfiguration<RouteEdition>
{
    public void Configure(EntityTypeBuilder<RouteEdition> builder)
    {
        builder.ToTable("RouteEditions");
        builder.HasKey(e => e.Id);
        builder.Property(e => e.Id).ValueGeneratedNever();
        builder.Property(e => e.TemplateCode).HasMaxLength(TextRules.Code);
        builder.HasIndex(e => new { e.TemplateCode, e.Edition }).IsUnique();
        builder.Property(e => e.Template).HasJsonConversion();
    }
}

internal sealed class RoutePictureConfiguration : IEntityTypeConfiguration<RoutePicture>
{
    // SHA-256 as hex digits.
    private const int HashLength = 64;

    public void Configure(EntityTypeBuilder<RoutePicture> builder)
    {
        builder.ToTable("RoutePictures");
        builder.HasKey(p => p.Id);
        builder.Property(p => p.Id).ValueGeneratedNever();
        builder.Property(p => p.OriginalHash).HasMaxLength(HashLength);
        builder.Property(p => p.StoredHash).HasMaxLength(HashLength);
        builder.Property(p => p.ThumbnailHash).HasMaxLength(HashLength);
    }
}
