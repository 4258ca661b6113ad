using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Data.Configurations.Intake;

internal sealed class CarConfiguration : IEntityTypeConfiguration<Car>
{
    public void Configure(EntityTypeBuilder<Car> builder)
    {
        builder.ToTable("Cars");
        builder.HasKey(c => c.Id);
        builder.HasOne<Customer>().WithMany().HasForeignKey(c => c.CustomerId);
        builder.Property(c => c.Make).HasMaxLength(TextRules.Name);
        builder.Property(c => c.Model).HasMaxLength(TextRules.Name);
        builder
            .Property(c => c.ChassisNumber)
            .HasConversion(
                new ValueConverter<ChassisNumber, string>(n => n.Text, text => ChassisNumber.FromStored(text))
            )
            .HasMaxLength(ChassisNumber.LongestText);
        builder.Property(c => c.Registration).HasMaxLength(Car.RegistrationLength);
        builder.Property(c => c.Facts).HasJsonConversion();
        builder.Ignore(c => c.Title).Ignore(c => c.Warnings);
        builder.HasIndex(c => new { c.Make, c.Model });
    }
}
