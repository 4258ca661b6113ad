using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Data.Configurations.Intake;

internal sealed class CarReturnConfiguration : IEntityTypeConfiguration<CarReturn>
{
    public void Configure(EntityTypeBuilder<CarReturn> builder)
    {
        builder.ToTable("CarReturns");
        builder.HasKey(r => r.Id);
        builder.HasIndex(r => r.JobId).IsUnique();
        builder.Property(r => r.WarningLights).HasJsonConversion();
        builder.Property(r => r.Looks).HasJsonConversion();
        builder.Property(r => r.PartsBack).HasJsonConversion();
        builder.Property(r => r.RemovedParts).HasJsonConversion();
        builder.Property(r => r.LeftOpen).HasMaxLength(TextRules.Note);
        builder.Property(r => r.NoticeHash).HasMaxLength(64);
        builder.Property(r => r.Note).HasMaxLength(TextRules.Note);
        builder.Property(r => r.Signature).HasJsonConversion();
        builder.Property(r => r.BalanceCurrency).HasMaxLength(3);
    }
}
