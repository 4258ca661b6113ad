using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Data.Configurations.RuleSets;

internal sealed class RuleSetVersionConfiguration : IEntityTypeConfiguration<RuleSetVersion>
{
    // SHA-256 as hex digits.
    private const int HashLength = 64;

    public void Configure(EntityTypeBuilder<RuleSetVersion> builder)
    {
        builder.ToTable("RuleSetVersions");
        builder.HasKey(v => v.Id);
        builder.Property(v => v.Id).ValueGeneratedNever();
        builder.Property(v => v.Code).HasMaxLength(TextRules.Code);
        builder.HasIndex(v => new { v.Code, v.Number }).IsUnique();
        builder.Property(v => v.ContentHash).HasMaxLength(HashLength);
        builder.Property(v => v.FileHash).HasMaxLength(HashLength);
        // Two servers that start at once store a shipped file once.
        builder.HasIndex(v => v.FileHash).IsUnique();
    }
}

internal sealed class RuleSetShelfConfiguration : IEntityTypeConfiguration<RuleSetShelf>
{
    public void Configure(EntityTypeBuilder<RuleSetShelf> builder)
    {
        builder.ToTable("RuleSetShelves");
        builder.HasKey(s => s.Code);
        builder.Property(s => s.Code).HasMaxLength(TextRules.Code).ValueGeneratedNever();
    }
}
