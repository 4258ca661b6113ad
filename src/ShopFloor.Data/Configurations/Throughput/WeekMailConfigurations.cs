using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Domain.Throughput;

namespace ShopFloor.Data.Configurations.Throughput;

internal sealed class WeekMailWishConfiguration : IEntityTypeConfiguration<WeekMailWish>
{
    public void Configure(EntityTypeBuilder<WeekMailWish> builder)
    {
        builder.ToTable("WeekMailWishes");
        builder.HasKey(w => w.Id);
        builder.Property(w => w.Id).ValueGeneratedNever();
    }
}

internal sealed class WeekMailConfiguration : IEntityTypeConfiguration<WeekMail>
{
    public void Configure(EntityTypeBuilder<WeekMail> builder)
    {
        builder.ToTable("WeekMails");
        builder.HasKey(m => m.Id);
        builder.Property(m => m.Id).ValueGeneratedNever();
        // Once for each person and Monday, whatever two servers do; mails asked for by hand have no Monday and are as many as are asked for.
        builder.HasIndex(m => new { m.Person, m.DueOn }).IsUnique();
    }
}
