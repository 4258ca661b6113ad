using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Data.Configurations.Intake;

internal sealed class GoodsOutConfiguration : IEntityTypeConfiguration<GoodsOut>
{
    public void Configure(EntityTypeBuilder<GoodsOut> builder)
    {
        builder.ToTable("GoodsOut");
        builder.HasKey(g => g.Id);
        builder.HasIndex(g => g.JobId).IsUnique();
        builder.HasOne<Job>().WithMany().HasForeignKey(g => g.JobId);
        builder.Property(g => g.Carrier).HasMaxLength(TextRules.Name);
        builder.Property(g => g.ConsignmentNumber).HasMaxLength(TextRules.Code);
        builder.Property(g => g.MassKg).HasPrecision(9, 3);
        builder.Property(g => g.SentTo).HasMaxLength(TextRules.Note);
        builder.Property(g => g.Note).HasMaxLength(TextRules.Note);
        builder.Property(g => g.Signature).HasJsonConversion();
        builder.Property(g => g.BalanceCurrency).HasMaxLength(3);
    }
}
