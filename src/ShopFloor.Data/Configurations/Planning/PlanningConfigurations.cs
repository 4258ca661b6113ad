using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Planning;

namespace ShopFloor.Data.Configurations.Planning;

internal sealed class ShopHoursConfiguration : IEntityTypeConfiguration<ShopHours>
{
    public void Configure(EntityTypeBuilder<ShopHours> builder)
    {
        builder.ToTable("ShopHours");
        builder.HasKey(h => h.Id);
        builder.Property(h => h.Id).ValueGeneratedNever();
        builder.Property(h => h.Hours).HasJsonConversion();
        builder.Property(h => h.Closed).HasJsonConversion();
        builder.Property(h => h.Rooms).HasJsonConversion();
        builder.Property(h => h.Stands).HasJsonConversion();
    }
}

internal sealed class PersonHoursConfiguration : IEntityTypeConfiguration<PersonHours>
{
    public void Configure(EntityTypeBuilder<PersonHours> builder)
    {
        builder.ToTable("PersonHours");
        builder.HasKey(h => h.Id);
        builder.Property(h => h.Id).ValueGeneratedNever();
        builder.Property(h => h.Skills).HasJsonConversion();
        builder.Property(h => h.Hours).HasJsonConversion();
        builder.Property(h => h.Away).HasJsonConversion();
    }
}

internal sealed class PlanWishesConfiguration : IEntityTypeConfiguration<PlanWishes>
{
    public void Configure(EntityTypeBuilder<PlanWishes> builder)
    {
        builder.ToTable("PlanWishes");
        builder.HasKey(w => w.Id);
        builder.Property(w => w.Id).ValueGeneratedNever();
        builder.Property(w => w.Operations).HasJsonConversion();
    }
}

internal sealed class PlanRunConfiguration : IEntityTypeConfiguration<PlanRun>
{
    public void Configure(EntityTypeBuilder<PlanRun> builder)
    {
        builder.ToTable("PlanRuns");
        builder.HasKey(r => r.Id);
        builder.Property(r => r.Id).ValueGeneratedNever();
        builder.Property(r => r.Aim).HasMaxLength(100);
        builder.Property(r => r.Operations).HasJsonConversion();
        builder.Property(r => r.LeftOut).HasJsonConversion();
        builder.Property(r => r.Granted).HasJsonConversion();
        builder.Property(r => r.GivenUp).HasJsonConversion();
        builder.Property(r => r.Measure).HasJsonConversion();
        builder.HasIndex(r => r.AskedAt);
    }
}

internal sealed class CalendarFeedConfiguration : IEntityTypeConfiguration<CalendarFeed>
{
    public void Configure(EntityTypeBuilder<CalendarFeed> builder)
    {
        builder.ToTable("CalendarFeeds");
        builder.HasKey(f => f.Id);
        builder.Property(f => f.Id).ValueGeneratedNever();
        builder.Property(f => f.Place).HasMaxLength(32);
        builder.Property(f => f.TokenHash).HasMaxLength(64);
        builder.HasIndex(f => f.TokenHash).IsUnique();
    }
}
