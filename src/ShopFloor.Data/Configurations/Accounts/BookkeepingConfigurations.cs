using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Data.Configurations.Accounts;

internal sealed class DayCloseConfiguration : IEntityTypeConfiguration<DayClose>
{
    public void Configure(EntityTypeBuilder<DayClose> builder)
    {
        builder.ToTable("DayCloses");
        builder.HasKey(d => d.Id);
        builder.Property(d => d.Id).ValueGeneratedNever();
        builder.HasIndex(d => d.Day).IsUnique();
        builder.Property(d => d.Methods).HasJsonConversion();
    }
}

internal sealed class JobCostConfiguration : IEntityTypeConfiguration<JobCost>
{
    public void Configure(EntityTypeBuilder<JobCost> builder)
    {
        builder.ToTable("JobCosts");
        builder.HasKey(c => c.Id);
        builder.Property(c => c.Id).ValueGeneratedNever();
        builder.HasOne<Job>().WithMany().HasForeignKey(c => c.JobId);
        builder.HasIndex(c => c.On);
        builder.Property(c => c.Supplier).HasMaxLength(TextRules.Name);
        builder.Property(c => c.Description).HasMaxLength(TextRules.ShortText);
        builder.Property(c => c.Reference).HasMaxLength(TextRules.Code);
        builder.Property(c => c.OperationCode).HasMaxLength(TextRules.Code);
        builder.Property(c => c.PaperHash).HasMaxLength(64);
        builder.Property(c => c.ReverseReason).HasMaxLength(TextRules.ShortText);
        builder.Ignore(c => c.Counts);
    }
}
