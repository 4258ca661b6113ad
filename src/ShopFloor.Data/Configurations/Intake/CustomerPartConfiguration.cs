using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Data.Configurations.Intake;

internal sealed class CustomerPartConfiguration : IEntityTypeConfiguration<CustomerPart>
{
    public void Configure(EntityTypeBuilder<CustomerPart> builder)
    {
        builder.ToTable("CustomerParts");
        builder.HasKey(p => p.Id);
        builder.HasIndex(p => p.JobId);
        builder.Property(p => p.What).HasMaxLength(TextRules.Name);
        builder.Property(p => p.Code).HasMaxLength(TextRules.Code);
        builder.Property(p => p.Note).HasMaxLength(TextRules.ShortText);
    }
}
