using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Data.Configurations.Fabrication;

internal sealed class JobFigureConfiguration : IEntityTypeConfiguration<JobFigure>
{
    public void Configure(EntityTypeBuilder<JobFigure> builder)
    {
        builder.ToTable("JobFigures");
        builder.HasKey(f => f.Id);
        builder.HasIndex(f => f.JobId);
        builder.Property(f => f.Operation).HasMaxLength(TextRules.Code);
        builder.Property(f => f.Calculator).HasMaxLength(TextRules.Code);
        builder.Property(f => f.Title).HasMaxLength(TextRules.Name);
        builder.Property(f => f.Note).HasMaxLength(TextRules.ShortText);
        builder.Property(f => f.EndReason).HasMaxLength(TextRules.ShortText);
        builder.Property(f => f.Inputs).HasJsonConversion();
        builder.Property(f => f.Results).HasJsonConversion();
        builder.Property(f => f.Warnings).HasJsonConversion();
    }
}

internal sealed class BenchMemoryConfiguration : IEntityTypeConfiguration<BenchMemory>
{
    public void Configure(EntityTypeBuilder<BenchMemory> builder)
    {
        builder.ToTable("BenchMemories");
        builder.HasKey(m => new { m.Person, m.Calculator });
        builder.Property(m => m.Calculator).HasMaxLength(TextRules.Code);
    }
}

internal sealed class BenderDieConfiguration : IEntityTypeConfiguration<BenderDie>
{
    public void Configure(EntityTypeBuilder<BenderDie> builder)
    {
        builder.ToTable("BenderDies");
        builder.HasKey(d => d.Id);
        builder.HasIndex(d => d.Name);
        builder.Property(d => d.Name).HasMaxLength(TextRules.Code);
        builder.Property(d => d.Note).HasMaxLength(TextRules.ShortText);
        builder.Property(d => d.Trials).HasJsonConversion();
    }
}
