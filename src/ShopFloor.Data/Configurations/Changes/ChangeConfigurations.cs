using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Data.Configurations.Changes;

internal sealed class ChangeOrderConfiguration : IEntityTypeConfiguration<ChangeOrder>
{
    public void Configure(EntityTypeBuilder<ChangeOrder> builder)
    {
        builder.ToTable("ChangeOrders");
        builder.HasKey(c => c.Id);
        builder.Property(c => c.Id).ValueGeneratedNever();
        builder.Property(c => c.Number).HasMaxLength(32);
        builder.HasIndex(c => c.Number).IsUnique();
        builder.HasIndex(c => new { c.JobId, c.State });
        builder.HasOne<Job>().WithMany().HasForeignKey(c => c.JobId);
        builder.HasOne<PriceBookEdition>().WithMany().HasForeignKey(c => c.PriceBookId);
        builder.Property(c => c.Terms).HasJsonConversion();
        builder.Property(c => c.Price).HasJsonConversion();
        builder.Property(c => c.ContentHash).HasMaxLength(64);
        builder.Property(c => c.ApprovedBy).HasMaxLength(TextRules.Name);
        builder.Property(c => c.CloseReason).HasMaxLength(TextRules.ShortText);
        builder.Ignore(c => c.Priced).Ignore(c => c.IsOpen).Ignore(c => c.HoldsWork);
    }
}
