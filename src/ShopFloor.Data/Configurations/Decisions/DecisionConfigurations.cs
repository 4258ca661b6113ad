using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Decisions;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Data.Configurations.Decisions;

internal sealed class DecisionLinkConfiguration : IEntityTypeConfiguration<DecisionLink>
{
    public void Configure(EntityTypeBuilder<DecisionLink> builder)
    {
        builder.ToTable("DecisionLinks");
        builder.HasKey(l => l.Id);
        builder.Property(l => l.Id).ValueGeneratedNever();
        builder.Property(l => l.AnsweredBy).HasMaxLength(TextRules.Name);
        builder.Property(l => l.TokenHash).HasMaxLength(64);
        builder.Property(l => l.Subjects).HasJsonConversion();
        builder.HasIndex(l => l.TokenHash).IsUnique();
        builder.HasIndex(l => l.Subject);
        builder.HasOne<Customer>().WithMany().HasForeignKey(l => l.CustomerId);
        builder.HasOne<Job>().WithMany().HasForeignKey(l => l.JobId);
    }
}

internal sealed class CustomerWordConfiguration : IEntityTypeConfiguration<CustomerWord>
{
    public void Configure(EntityTypeBuilder<CustomerWord> builder)
    {
        builder.ToTable("CustomerWords");
        builder.HasKey(w => w.Id);
        builder.Property(w => w.Id).ValueGeneratedNever();
        builder.Property(w => w.Text).HasMaxLength(TextRules.Note);
        builder.Property(w => w.Answer).HasMaxLength(TextRules.Note);
        builder.HasIndex(w => w.JobId);
        builder.HasIndex(w => w.DoneAt);
        builder.HasOne<DecisionLink>().WithMany().HasForeignKey(w => w.LinkId);
        builder.HasOne<Customer>().WithMany().HasForeignKey(w => w.CustomerId);
    }
}
