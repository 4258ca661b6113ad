using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Backups;

namespace ShopFloor.Data.Configurations.Backups;

internal sealed class BackupRowConfiguration : IEntityTypeConfiguration<BackupRow>
{
    public void Configure(EntityTypeBuilder<BackupRow> builder)
    {
        builder.ToTable("Backups");
        builder.HasKey(b => b.Id);
        builder.Property(b => b.Slot).HasMaxLength(32);
        builder.Property(b => b.FileName).HasMaxLength(BackupRow.LongestText);
        builder.Property(b => b.Machine).HasMaxLength(BackupRow.LongestText);
        builder.Property(b => b.Failure).HasMaxLength(BackupRow.LongestText);
        builder.HasIndex(b => b.StartedAt);
        builder.HasIndex(b => b.Slot).IsUnique();
    }
}
