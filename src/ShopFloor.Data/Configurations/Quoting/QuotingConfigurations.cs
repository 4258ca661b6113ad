using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Data.Configurations.Quoting;

internal sealed class PriceBookEditionConfiguration : IEntityTypeConfiguration<PriceBookEdition>
{
    public void Configure(EntityTypeBuilder<PriceBookEdition> builder)
    {
        builder.ToTable("PriceBooks");
        builder.HasKey(b => b.Id);
        builder.HasIndex(b => b.Edition).IsUnique();
        builder.Property(b => b.Book).HasJsonConversion();
    }
}

internal sealed class PriceBookDraftConfiguration : IEntityTypeConfiguration<PriceBookDraft>
{
    public void Configure(EntityTypeBuilder<PriceBookDraft> builder)
    {
        builder.ToTable("PriceBookDrafts");
        builder.HasKey(d => d.Id);
        builder.HasIndex(d => d.Slot).IsUnique();
        builder.Property(d => d.Book).HasJsonConversion();
    }
}

internal sealed class QuoteConfiguration : IEntityTypeConfiguration<Quote>
{
    public void Configure(EntityTypeBuilder<Quote> builder)
    {
        builder.ToTable("Quotes");
        builder.HasKey(q => q.Id);
        builder.Property(q => q.Number).HasMaxLength(32);
        builder.HasIndex(q => new { q.Number, q.Revision }).IsUnique();
        builder.HasIndex(q => new { q.State, q.CreatedAt });
        builder.HasIndex(q => q.SentAt);
        builder.HasIndex(q => q.ClosedAt);
        builder.HasIndex(q => new { q.State, q.ValidUntil });
        builder.HasOne<Customer>().WithMany().HasForeignKey(q => q.CustomerId);
        builder.HasOne<Car>().WithMany().HasForeignKey(q => q.CarId);
        builder.HasOne<PriceBookEdition>().WithMany().HasForeignKey(q => q.PriceBookId);
        builder.Property(q => q.Terms).HasJsonConversion();
        builder.Property(q => q.Priced).HasJsonConversion();
        builder.Property(q => q.ContentHash).HasMaxLength(64);
        builder.Property(q => q.AcceptedBy).HasMaxLength(TextRules.Name);
        builder.Property(q => q.DeclineReason).HasMaxLength(TextRules.Note);
        builder.Ignore(q => q.Scope).Ignore(q => q.PromiseDate);
    }
}
