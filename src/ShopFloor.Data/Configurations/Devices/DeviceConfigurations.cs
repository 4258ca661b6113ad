using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Devices;

namespace ShopFloor.Data.Configurations.Devices;

internal sealed class ShopDeviceConfiguration : IEntityTypeConfiguration<ShopDevice>
{
    public void Configure(EntityTypeBuilder<ShopDevice> builder)
    {
        builder.ToTable("Devices");
        builder.HasKey(d => d.Id);
        builder.Property(d => d.Id).ValueGeneratedNever();
        builder.Property(d => d.Name).HasMaxLength(TextRules.Code);
        builder.Property(d => d.SecretHash).HasMaxLength(64);
        builder.HasIndex(d => d.SecretHash).IsUnique();
    }
}

internal sealed class EnrolmentCodeConfiguration : IEntityTypeConfiguration<EnrolmentCode>
{
    public void Configure(EntityTypeBuilder<EnrolmentCode> builder)
    {
        builder.ToTable("EnrolmentCodes");
        builder.HasKey(c => c.Id);
        builder.Property(c => c.Id).ValueGeneratedNever();
        builder.Property(c => c.Hash).HasMaxLength(64);
        builder.HasIndex(c => c.Hash).IsUnique();
    }
}

internal sealed class PersonPinConfiguration : IEntityTypeConfiguration<PersonPin>
{
    public void Configure(EntityTypeBuilder<PersonPin> builder)
    {
        builder.ToTable("PersonPins");
        builder.HasKey(p => p.Person);
        builder.Property(p => p.Person).ValueGeneratedNever();
        builder.Property(p => p.Hash).HasMaxLength(256);
    }
}

internal sealed class AttemptLimitConfiguration : IEntityTypeConfiguration<AttemptLimit>
{
    public void Configure(EntityTypeBuilder<AttemptLimit> builder)
    {
        builder.ToTable("AttemptLimits");
        builder.HasKey(l => l.Key);
        builder.Property(l => l.Key).HasMaxLength(AttemptLimit.LongestKey).ValueGeneratedNever();
    }
}
