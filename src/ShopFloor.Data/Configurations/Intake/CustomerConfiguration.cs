using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Data.Configurations.Intake;

internal sealed class CustomerConfiguration : IEntityTypeConfiguration<Customer>
{
    public void Configure(EntityTypeBuilder<Customer> builder)
    {
        builder.ToTable("Customers");
        builder.HasKey(c => c.Id);
        builder.Property(c => c.Name).HasMaxLength(TextRules.Name);
        builder.Property(c => c.AddressLines).HasJsonConversion();
        builder.Property(c => c.Email).HasMaxLength(ContactRules.Email);
        builder.Property(c => c.Phone).HasMaxLength(ContactRules.Phone);
        builder.Property(c => c.TaxNumber).HasMaxLength(ContactRules.TaxNumber);
        builder.Property(c => c.TaxExemption).HasMaxLength(TextRules.ShortText);
        builder.Property(c => c.Language).HasMaxLength(ContactRules.Language);
        builder.Property(c => c.Payer).HasJsonConversion();
        builder.Ignore(c => c.IsTaxExempt).Ignore(c => c.BillTo);
        builder.HasIndex(c => c.Name);
    }
}
