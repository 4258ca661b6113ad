using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Data.Configurations.Intake;

internal sealed class PhotoConfiguration : IEntityTypeConfiguration<Photo>
{
    // SHA-256 as hex digits.
    private const int HashLength = 64;

    public void Configure(EntityTypeBuilder<Photo> builder)
    {
        builder.ToTable("Photos");
        builder.HasKey(p => p.Id);
        builder.HasIndex(p => new { p.JobId, p.Kind });
        builder.HasIndex(p => p.ReadingId);
        builder.Property(p => p.OperationCode).HasMaxLength(TextRules.Code);
        builder.Property(p => p.Caption).HasMaxLength(TextRules.ShortText);
        builder.Property(p => p.OriginalHash).HasMaxLength(HashLength);
        builder.Property(p => p.StoredHash).HasMaxLength(HashLength);
        builder.Property(p => p.ThumbnailHash).HasMaxLength(HashLength);
        builder.Ignore(p => p.Place);
    }
}
