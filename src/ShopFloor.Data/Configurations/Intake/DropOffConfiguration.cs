using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Data.Configurations.Intake;

internal sealed class DropOffConfiguration : IEntityTypeConfiguration<DropOff>
{
    public void Configure(EntityTypeBuilder<DropOff> builder)
    {
        builder.ToTable("DropOffs");
        builder.HasKey(d => d.Id);
        builder.HasIndex(d => d.JobId).IsUnique();
        builder.Property(d => d.WarningLights).HasJsonConversion();
        builder.Property(d => d.WarningLightsNote).HasMaxLength(TextRules.ShortText);
        builder.Property(d => d.KeysNote).HasMaxLength(TextRules.ShortText);
        builder.Property(d => d.ConditionFound).HasJsonConversion();
        builder.Property(d => d.StaysFitted).HasJsonConversion();
        builder.Property(d => d.InTheCar).HasJsonConversion();
        builder.Property(d => d.Note).HasMaxLength(TextRules.Note);
        builder.Property(d => d.Authorisation).HasJsonConversion();
        builder.Ignore(d => d.Missing);
    }
}
