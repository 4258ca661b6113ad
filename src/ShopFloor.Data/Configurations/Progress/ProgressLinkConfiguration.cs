using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Domain.Progress;

namespace ShopFloor.Data.Configurations.Progress;

internal sealed class ProgressLinkConfiguration : IEntityTypeConfiguration<ProgressLink>
{
    public void Configure(EntityTypeBuilder<ProgressLink> builder)
    {
        builder.ToTable("ProgressLinks");
        builder.HasKey(l => l.Id);
        builder.Property(l => l.Id).ValueGeneratedNever();
        builder.Property(l => l.TokenHash).HasMaxLength(64);
        builder.HasIndex(l => l.TokenHash).IsUnique();
        builder.HasIndex(l => l.JobId);
    }
}
