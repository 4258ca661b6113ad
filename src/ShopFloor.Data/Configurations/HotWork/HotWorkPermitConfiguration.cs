using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;

namespace ShopFloor.Data.Configurations.HotWork;

internal sealed class HotWorkPermitConfiguration : IEntityTypeConfiguration<HotWorkPermit>
{
    public void Configure(EntityTypeBuilder<HotWorkPermit> builder)
    {
        builder.ToTable("HotWorkPermits");
        builder.HasKey(p => p.Id);
        builder.HasIndex(p => p.Number).IsUnique();
        builder.HasIndex(p => p.ClosedAt);
        builder.HasIndex(p => p.JobId);
        builder.Property(p => p.Number).HasMaxLength(TextRules.Code);
        builder.Property(p => p.Place).HasMaxLength(TextRules.Code);
        builder.Property(p => p.Answers).HasJsonConversion();
        builder.Property(p => p.Spells).HasJsonConversion();
        builder.Property(p => p.WatcherChanges).HasJsonConversion();
        builder.Property(p => p.CloseNote).HasMaxLength(TextRules.ShortText);
        builder.Ignore(p => p.IsClosed);
        builder.Ignore(p => p.WatchUntil);
    }
}
