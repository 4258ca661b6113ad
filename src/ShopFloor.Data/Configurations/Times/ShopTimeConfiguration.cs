using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Times;

namespace ShopFloor.Data.Configurations.Times;

internal sealed class ShopTimeConfiguration : IEntityTypeConfiguration<ShopTime>
{
    public void Configure(EntityTypeBuilder<ShopTime> builder)
    {
        builder.ToTable("ShopTimes");
        builder.HasKey(t => t.Id);
        builder.Property(t => t.Id).ValueGeneratedNever();
        builder.HasIndex(t => t.StartedAt);
        builder.HasIndex(t => t.EndedAt);
        // Two taps at once must not begin two spells: the later one finds the first one's.
        builder.HasIndex(t => new { t.Person, t.IsAttendance }).IsUnique().HasFilter("\"EndedAt\" IS NULL");
        builder.Property(t => t.Note).HasMaxLength(TextRules.ShortText);
        builder.Property(t => t.Left).HasJsonConversion();
        builder.Property(t => t.Corrections).HasJsonConversion();
        builder.Property(t => t.Entered).HasJsonConversion();
        builder.Ignore(t => t.IsRunning);
    }
}
