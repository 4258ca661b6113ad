using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Data.Configurations.Stock;

internal sealed class StockItemConfiguration : IEntityTypeConfiguration<StockItem>
{
    public void Configure(EntityTypeBuilder<StockItem> builder)
    {
        builder.ToTable("StockItems");
        builder.HasKey(i => i.Id);
        builder.Property(i => i.Id).ValueGeneratedNever();
        builder.Property(i => i.Code).HasMaxLength(TextRules.Code);
        builder.HasIndex(i => i.Code).IsUnique();
        builder.Property(i => i.Title).HasMaxLength(TextRules.Name);
        builder.Property(i => i.Material).HasMaxLength(TextRules.Name);
        builder.Property(i => i.Location).HasMaxLength(TextRules.Code);
        builder.Property(i => i.SupplierCode).HasMaxLength(TextRules.Code);
        builder.HasOne<Supplier>().WithMany().HasForeignKey(i => i.SupplierId);
        builder.Ignore(i => i.IsTube);
    }
}

internal sealed class SupplierConfiguration : IEntityTypeConfiguration<Supplier>
{
    public void Configure(EntityTypeBuilder<Supplier> builder)
    {
        builder.ToTable("Suppliers");
        builder.HasKey(s => s.Id);
        builder.Property(s => s.Id).ValueGeneratedNever();
        builder.Property(s => s.Name).HasMaxLength(TextRules.Name);
        builder.HasIndex(s => s.Name).IsUnique();
        builder.Property(s => s.Email).HasMaxLength(TextRules.ShortText);
        builder.Property(s => s.Phone).HasMaxLength(TextRules.Code);
        builder.Property(s => s.Note).HasMaxLength(TextRules.Note);
    }
}

internal sealed class StockLotConfiguration : IEntityTypeConfiguration<StockLot>
{
    public void Configure(EntityTypeBuilder<StockLot> builder)
    {
        builder.ToTable("StockLots");
        builder.HasKey(l => l.Id);
        builder.Property(l => l.Id).ValueGeneratedNever();
        builder.Property(l => l.Number).HasMaxLength(TextRules.Code);
        builder.HasIndex(l => l.Number).IsUnique();
        builder.Property(l => l.Mark).HasMaxLength(TextRules.Code);
        builder.Property(l => l.Location).HasMaxLength(StockLot.LongestLocation);
        builder.HasOne<StockItem>().WithMany().HasForeignKey(l => l.ItemId);
        builder.HasOne<StockLot>().WithMany().HasForeignKey(l => l.FromLotId);
        builder.HasOne<Supplier>().WithMany().HasForeignKey(l => l.SupplierId);
        builder.HasIndex(l => new { l.IsEmpty, l.ItemId });
        builder.Ignore(l => l.Amount);
    }
}

internal sealed class StockMovementConfiguration : IEntityTypeConfiguration<StockMovement>
{
    public void Configure(EntityTypeBuilder<StockMovement> builder)
    {
        builder.ToTable("StockMovements");
        builder.HasKey(m => m.Id);
        builder.Property(m => m.Id).ValueGeneratedNever();
        builder.Property(m => m.Location).HasMaxLength(StockLot.LongestLocation);
        builder.Property(m => m.Reason).HasMaxLength(TextRules.ShortText);
        builder.HasOne<StockLot>().WithMany().HasForeignKey(m => m.LotId);
        builder.HasIndex(m => new { m.LotId, m.Number }).IsUnique();
        builder.HasIndex(m => new { m.ItemId, m.RecordedAt });
        builder.HasIndex(m => m.SawPlanId);
    }
}

internal sealed class JobStockConfiguration : IEntityTypeConfiguration<JobStock>
{
    public void Configure(EntityTypeBuilder<JobStock> builder)
    {
        builder.ToTable("JobStock");
        builder.HasKey(u => u.Id);
        builder.Property(u => u.Id).ValueGeneratedNever();
        builder.Property(u => u.What).HasMaxLength(TextRules.ShortText);
        builder.HasOne<Job>().WithMany().HasForeignKey(u => u.JobId);
        builder.HasOne<StockLot>().WithMany().HasForeignKey(u => u.LotId);
    }
}

internal sealed class StockReservationConfiguration : IEntityTypeConfiguration<StockReservation>
{
    public void Configure(EntityTypeBuilder<StockReservation> builder)
    {
        builder.ToTable("StockReservations");
        builder.HasKey(r => new { r.JobId, r.ItemId });
        builder.HasOne<Job>().WithMany().HasForeignKey(r => r.JobId);
        builder.HasOne<StockItem>().WithMany().HasForeignKey(r => r.ItemId);
    }
}

internal sealed class StockOrderConfiguration : IEntityTypeConfiguration<StockOrder>
{
    public void Configure(EntityTypeBuilder<StockOrder> builder)
    {
        builder.ToTable("StockOrders");
        builder.HasKey(o => o.Id);
        builder.Property(o => o.Id).ValueGeneratedNever();
        builder.Property(o => o.Number).HasMaxLength(TextRules.Code);
        builder.HasIndex(o => o.Number).IsUnique();
        builder.HasIndex(o => o.State);
        builder.Property(o => o.Note).HasMaxLength(TextRules.Note);
        builder.Property(o => o.CloseReason).HasMaxLength(TextRules.ShortText);
        builder.Property(o => o.Lines).HasJsonConversion();
        builder.HasOne<Supplier>().WithMany().HasForeignKey(o => o.SupplierId);
        builder.Ignore(o => o.IsOpen);
    }
}

internal sealed class CutListConfiguration : IEntityTypeConfiguration<CutList>
{
    public void Configure(EntityTypeBuilder<CutList> builder)
    {
        builder.ToTable("CutLists");
        builder.HasKey(c => c.JobId);
        builder.Property(c => c.JobId).ValueGeneratedNever();
        builder.HasOne<Job>().WithOne().HasForeignKey<CutList>(c => c.JobId);
        builder.Property(c => c.Lines).HasJsonConversion();
    }
}

internal sealed class SawPlanConfiguration : IEntityTypeConfiguration<SawPlan>
{
    public void Configure(EntityTypeBuilder<SawPlan> builder)
    {
        builder.ToTable("SawPlans");
        builder.HasKey(p => p.Id);
        builder.Property(p => p.Id).ValueGeneratedNever();
        builder.Property(p => p.Number).HasMaxLength(TextRules.Code);
        builder.HasIndex(p => p.Number).IsUnique();
        builder.HasIndex(p => p.State);
        builder.Property(p => p.EndReason).HasMaxLength(TextRules.ShortText);
        builder.Property(p => p.Bars).HasJsonConversion();
        builder.HasOne<StockItem>().WithMany().HasForeignKey(p => p.ItemId);
        builder.Ignore(p => p.StockUsedMm);
        builder.Ignore(p => p.Jobs);
        builder.Ignore(p => p.HowGood);
    }
}
