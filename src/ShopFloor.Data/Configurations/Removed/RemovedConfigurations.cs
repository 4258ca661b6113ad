using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Removed;

namespace ShopFloor.Data.Configurations.Removed;

internal sealed class PartOutConfiguration : IEntityTypeConfiguration<PartOut>
{
    public void Configure(EntityTypeBuilder<PartOut> builder)
    {
        builder.ToTable("PartsOut");
        builder.HasKey(p => p.Id);
        builder.HasIndex(p => new { p.JobId, p.Number }).IsUnique();
        builder.Property(p => p.What).HasMaxLength(TextRules.Name);
        builder.Property(p => p.TakenFrom).HasMaxLength(TextRules.Name);
        builder.Property(p => p.Place).HasMaxLength(TextRules.Name);
        builder.Property(p => p.Note).HasMaxLength(TextRules.ShortText);
        builder.Property(p => p.Moves).HasJsonConversion();
        builder.Ignore(p => p.IsUnaccounted);
    }
}

internal sealed class WhereaboutsConfiguration : IEntityTypeConfiguration<Whereabouts>
{
    public void Configure(EntityTypeBuilder<Whereabouts> builder)
    {
        builder.ToTable("Whereabouts");
        builder.HasKey(w => w.JobId);
        builder.Property(w => w.Car).HasMaxLength(TextRules.Name);
        builder.Property(w => w.Keys).HasMaxLength(TextRules.Name);
        builder.Property(w => w.CarMoves).HasJsonConversion();
        builder.Property(w => w.KeyMoves).HasJsonConversion();
    }
}
