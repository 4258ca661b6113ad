using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Integrations;

namespace ShopFloor.Data.Configurations.Integrations;

internal sealed class WebhookConfiguration : IEntityTypeConfiguration<Webhook>
{
    public void Configure(EntityTypeBuilder<Webhook> builder)
    {
        builder.ToTable("Webhooks");
        builder.HasKey(w => w.Id);
        builder.Property(w => w.Id).ValueGeneratedNever();
        builder.Property(w => w.Name).HasMaxLength(TextRules.Name);
        builder.Property(w => w.Address).HasMaxLength(Webhook.LongestAddress);
        builder.Property(w => w.Types).HasJsonConversion();
        builder.Property(w => w.Trouble).HasMaxLength(TextRules.ShortText);
    }
}

internal sealed class WebhookDeliveryConfiguration : IEntityTypeConfiguration<WebhookDelivery>
{
    public void Configure(EntityTypeBuilder<WebhookDelivery> builder)
    {
        builder.ToTable("WebhookDeliveries");
        builder.HasKey(d => d.Id);
        builder.Property(d => d.Id).ValueGeneratedNever();
        builder.Property(d => d.Problem).HasMaxLength(WebhookDelivery.LongestProblem);
        builder.HasOne<Webhook>().WithMany().HasForeignKey(d => d.WebhookId);
        builder.HasIndex(d => new { d.State, d.DueAt });
        builder.HasIndex(d => new { d.WebhookId, d.EventSequence }).IsUnique();
        builder.HasIndex(d => d.CreatedAt);
    }
}
