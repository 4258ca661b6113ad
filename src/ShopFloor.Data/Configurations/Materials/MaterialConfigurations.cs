using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Materials;

namespace ShopFloor.Data.Configurations.Materials;

internal sealed class JobTraceConfiguration : IEntityTypeConfiguration<JobTrace>
{
    public void Configure(EntityTypeBuilder<JobTrace> builder)
    {
        builder.ToTable("JobTraces");
        builder.HasKey(t => t.JobId);
        builder.Property(t => t.JobId).ValueGeneratedNever();
        builder.Property(t => t.Wanted).HasJsonConversion();
        builder.Property(t => t.Acceptances).HasJsonConversion();
        builder.HasMany(t => t.Materials).WithOne().HasForeignKey(m => m.JobId);
        builder.HasMany(t => t.Joints).WithOne().HasForeignKey(j => j.JobId);
    }
}

internal sealed class JobMaterialConfiguration : IEntityTypeConfiguration<JobMaterial>
{
    public void Configure(EntityTypeBuilder<JobMaterial> builder)
    {
        builder.ToTable("JobMaterials");
        builder.HasKey(m => m.Id);
        builder.Property(m => m.Id).ValueGeneratedNever();
        builder.Property(m => m.Entries).HasJsonConversion();
        builder.Property(m => m.WithdrawnReason).HasMaxLength(TextRules.ShortText);
        builder.HasIndex(m => new { m.JobId, m.Number }).IsUnique();
        builder.Ignore(m => m.Latest);
        builder.Ignore(m => m.Counts);
    }
}

internal sealed class WeldedJointConfiguration : IEntityTypeConfiguration<WeldedJoint>
{
    public void Configure(EntityTypeBuilder<WeldedJoint> builder)
    {
        builder.ToTable("WeldedJoints");
        builder.HasKey(j => j.Id);
        builder.Property(j => j.Id).ValueGeneratedNever();
        builder.Property(j => j.Code).HasMaxLength(TextRules.Code);
        builder.Property(j => j.What).HasMaxLength(TextRules.Name);
        builder.Property(j => j.OperationCode).HasMaxLength(8);
        builder.Property(j => j.Entries).HasJsonConversion();
        builder.HasIndex(j => new { j.JobId, j.Code }).IsUnique();
        builder.Ignore(j => j.Latest);
    }
}

internal sealed class WelderQualificationConfiguration : IEntityTypeConfiguration<WelderQualification>
{
    public void Configure(EntityTypeBuilder<WelderQualification> builder)
    {
        builder.ToTable("WelderQualifications");
        builder.HasKey(q => q.Id);
        builder.Property(q => q.Id).ValueGeneratedNever();
        builder.Property(q => q.Process).HasMaxLength(TextRules.Code);
        builder.Property(q => q.Standard).HasMaxLength(TextRules.Name);
        builder.Property(q => q.Number).HasMaxLength(TextRules.Code);
        builder.HasIndex(q => q.Person);
        builder.Ignore(q => q.Words);
    }
}
