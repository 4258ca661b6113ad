using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Data.Configurations.Intake;

internal sealed class UploadLinkConfiguration : IEntityTypeConfiguration<UploadLink>
{
    public void Configure(EntityTypeBuilder<UploadLink> builder)
    {
        builder.ToTable("UploadLinks");
        builder.HasKey(l => l.Id);
        builder.HasIndex(l => l.TokenHash).IsUnique();
        builder.HasIndex(l => l.JobId);
        builder.Property(l => l.TokenHash).HasMaxLength(64);
    }
}
