using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Progress;

namespace ShopFloor.Data.Configurations.Progress;

internal sealed class ProgressSharingConfiguration : IEntityTypeConfiguration<ProgressSharing>
{
    public void Configure(EntityTypeBuilder<ProgressSharing> builder)
    {
        builder.ToTable("ProgressSharings");
        builder.HasKey(s => s.JobId);
        builder.Property(s => s.JobId).ValueGeneratedNever();
        builder.Property(s => s.Papers).HasJsonConversion();
        builder.Property(s => s.Reason).HasMaxLength(TextRules.ShortText);
    }
}

internal sealed class CustomerNoteConfiguration : IEntityTypeConfiguration<CustomerNote>
{
    public void Configure(EntityTypeBuilder<CustomerNote> builder)
    {
        builder.ToTable("CustomerNotes");
        builder.HasKey(n => n.Id);
        builder.Property(n => n.Id).ValueGeneratedNever();
        builder.Property(n => n.Text).HasMaxLength(CustomerNote.LongestText);
        builder.HasIndex(n => n.JobId);
    }
}
