using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Data.Configurations.Intake;

internal sealed class HandOverConfiguration : IEntityTypeConfiguration<HandOver>
{
    public void Configure(EntityTypeBuilder<HandOver> builder)
    {
        builder.ToTable("HandOvers");
        builder.HasKey(h => h.Id);
        builder.HasIndex(h => h.JobId).IsUnique();
        builder.Property(h => h.WarningLights).HasJsonConversion();
        builder.Property(h => h.Looks).HasJsonConversion();
        builder.Property(h => h.Note).HasMaxLength(TextRules.Note);
        builder.Property(h => h.Signature).HasJsonConversion();
        builder.Property(h => h.BalanceCurrency).HasMaxLength(3);
    }
}
