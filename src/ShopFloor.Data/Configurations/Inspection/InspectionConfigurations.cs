using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Inspection.Packs;

namespace ShopFloor.Data.Configurations.Inspection;

internal sealed class JobInspectionConfiguration : IEntityTypeConfiguration<JobInspection>
{
    public void Configure(EntityTypeBuilder<JobInspection> builder)
    {
        builder.ToTable("JobInspections");
        builder.HasKey(i => i.JobId);
        builder.Property(i => i.JobId).ValueGeneratedNever();
        builder.Property(i => i.PlanCode).HasMaxLength(TextRules.Code);
        builder.Property(i => i.RuleSets).HasJsonConversion();
        builder.HasMany(i => i.Lines).WithOne().HasForeignKey(l => l.JobId);
        builder.HasMany(i => i.SignOffs).WithOne().HasForeignKey(s => s.JobId);
        builder.HasMany(i => i.Nonconformances).WithOne().HasForeignKey(n => n.JobId);
        builder.Ignore(i => i.Current);
        builder.Ignore(i => i.IsSignedOff);
    }
}

internal sealed class InspectionLineConfiguration : IEntityTypeConfiguration<InspectionLine>
{
    public void Configure(EntityTypeBuilder<InspectionLine> builder)
    {
        builder.ToTable("InspectionLines");
        builder.HasKey(l => l.Id);
        builder.Property(l => l.Id).ValueGeneratedNever();
        builder.Property(l => l.Code).HasMaxLength(TextRules.Code);
        builder.Property(l => l.OperationCode).HasMaxLength(8);
        builder.Property(l => l.What).HasMaxLength(TextRules.ShortText + 16);
        builder.Property(l => l.How).HasMaxLength(TextRules.ShortText);
        builder.Property(l => l.Unit).HasMaxLength(InspectionLine.LongestUnit);
        builder.Property(l => l.Source).HasMaxLength(TextRules.Note);
        builder.Property(l => l.Caution).HasMaxLength(TextRules.ShortText);
        builder.HasIndex(l => new { l.JobId, l.Code }).IsUnique();
        builder.HasIndex(l => l.State);
        builder.Ignore(l => l.Latest);
        builder.Ignore(l => l.IsMeasured);
        builder.Ignore(l => l.LimitsInWords);
        builder.Ignore(l => l.NeedsSize);
        builder.Property(l => l.Pair).HasJsonConversion();
        builder.Property(l => l.Ordered).HasJsonConversion();
        builder.HasMany(l => l.Readings).WithOne().HasForeignKey(r => r.LineId);
    }
}

internal sealed class ReadingConfiguration : IEntityTypeConfiguration<Reading>
{
    public void Configure(EntityTypeBuilder<Reading> builder)
    {
        builder.ToTable("Readings");
        builder.HasKey(r => r.Id);
        builder.Property(r => r.Id).ValueGeneratedNever();
        builder.Property(r => r.Note).HasMaxLength(TextRules.Note);
        builder.Property(r => r.PhotoIds).HasJsonConversion();
        foreach (
            var name in new[]
            {
                nameof(Reading.Value),
                nameof(Reading.First),
                nameof(Reading.Second),
                nameof(Reading.Uncertainty),
            }
        )
        {
            builder.Property(name).HasPrecision(18, InspectionLine.Decimals);
        }

        builder.Property(r => r.Entered).HasMaxLength(MeasuredText.LongestText);
        builder.Property(r => r.EnteredSecond).HasMaxLength(MeasuredText.LongestText);
        builder.Property(r => r.InstrumentName).HasMaxLength(TextRules.Code);
        builder.HasIndex(r => new { r.LineId, r.Number }).IsUnique();
    }
}

internal sealed class SignOffConfiguration : IEntityTypeConfiguration<SignOff>
{
    public void Configure(EntityTypeBuilder<SignOff> builder)
    {
        builder.ToTable("SignOffs");
        builder.HasKey(s => s.Id);
        builder.Property(s => s.Id).ValueGeneratedNever();
        builder.Property(s => s.Note).HasMaxLength(TextRules.Note);
        builder.Property(s => s.WithdrawnReason).HasMaxLength(TextRules.Note);
        builder.HasIndex(s => s.SignedAt);
        builder.Ignore(s => s.Stands);
    }
}

internal sealed class InstrumentConfiguration : IEntityTypeConfiguration<Instrument>
{
    public void Configure(EntityTypeBuilder<Instrument> builder)
    {
        builder.ToTable("Instruments");
        builder.HasKey(i => i.Id);
        builder.Property(i => i.Id).ValueGeneratedNever();
        builder.HasIndex(i => i.Name);
        builder.Property(i => i.Name).HasMaxLength(TextRules.Code);
        builder.Property(i => i.Unit).HasMaxLength(InspectionLine.LongestUnit);
        builder.Property(i => i.Note).HasMaxLength(TextRules.ShortText);
    }
}

internal sealed class NonconformanceConfiguration : IEntityTypeConfiguration<Nonconformance>
{
    public void Configure(EntityTypeBuilder<Nonconformance> builder)
    {
        builder.ToTable("Nonconformances");
        builder.HasKey(n => n.Id);
        builder.Property(n => n.Id).ValueGeneratedNever();
        builder.Property(n => n.LineCode).HasMaxLength(TextRules.Code);
        builder.Property(n => n.OperationCode).HasMaxLength(8);
        builder.Property(n => n.What).HasMaxLength(TextRules.ShortText + 16);
        builder.Property(n => n.Description).HasMaxLength(TextRules.Note);
        builder.Property(n => n.Reason).HasMaxLength(TextRules.ShortText);
        builder.Property(n => n.PhotoIds).HasJsonConversion();
        builder.Property(n => n.Reworks).HasJsonConversion();
        builder.HasIndex(n => new { n.JobId, n.Number }).IsUnique();
        builder.HasIndex(n => n.OpenedAt);
        builder.Ignore(n => n.IsOpen);
    }
}

internal sealed class InspectionPackConfiguration : IEntityTypeConfiguration<InspectionPack>
{
    public void Configure(EntityTypeBuilder<InspectionPack> builder)
    {
        builder.ToTable("InspectionPacks");
        builder.HasKey(p => p.SignOffId);
        builder.Property(p => p.SignOffId).ValueGeneratedNever();
        builder.Property(p => p.RecordHash).HasMaxLength(64);
        builder.Property(p => p.Private).HasJsonConversion();
        builder.HasIndex(p => p.RecordHash).IsUnique();
        builder.HasIndex(p => p.JobId);
        builder.HasOne<SignOff>().WithOne().HasForeignKey<InspectionPack>(p => p.SignOffId);
    }
}

internal sealed class InspectionPlanVersionConfiguration : IEntityTypeConfiguration<InspectionPlanVersion>
{
    public void Configure(EntityTypeBuilder<InspectionPlanVersion> builder)
    {
        builder.ToTable("InspectionPlanVersions");
        builder.HasKey(v => v.Id);
        builder.Property(v => v.Id).ValueGeneratedNever();
        builder.Property(v => v.PlanCode).HasMaxLength(TextRules.Code);
        builder.Property(v => v.ContentHash).HasMaxLength(64);
        builder.Property(v => v.Note).HasMaxLength(TextRules.ShortText);
        builder.HasIndex(v => new { v.PlanCode, v.Number }).IsUnique();
        builder.Ignore(v => v.Plan);
        builder.Ignore(v => v.IsWhole);
    }
}

internal sealed class WitnessNoticeConfiguration : IEntityTypeConfiguration<WitnessNotice>
{
    public void Configure(EntityTypeBuilder<WitnessNotice> builder)
    {
        builder.ToTable("WitnessNotices");
        builder.HasKey(n => n.Id);
        builder.Property(n => n.Id).ValueGeneratedNever();
        builder.Property(n => n.OperationCode).HasMaxLength(8);
        builder.Property(n => n.Note).HasMaxLength(TextRules.ShortText);
        builder.HasIndex(n => new { n.JobId, n.OperationCode }).IsUnique();
        builder.HasIndex(n => n.Outcome);
    }
}
