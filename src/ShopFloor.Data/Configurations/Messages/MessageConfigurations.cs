using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;

namespace ShopFloor.Data.Configurations.Messages;

internal sealed class OutboxMessageConfiguration : IEntityTypeConfiguration<OutboxMessage>
{
    public void Configure(EntityTypeBuilder<OutboxMessage> builder)
    {
        builder.ToTable("Messages");
        builder.HasKey(m => m.Id);
        builder.Property(m => m.Id).ValueGeneratedNever();
        builder.Property(m => m.MessageId).HasMaxLength(400);
        builder.Property(m => m.Problem).HasMaxLength(OutboxMessage.LongestProblem);
        builder.HasIndex(m => new { m.State, m.DueAt });
        builder.HasIndex(m => m.JobId);
        builder.HasIndex(m => m.CustomerId);
        builder.HasIndex(m => m.SubjectId);
        builder.HasIndex(m => new { m.EventSequence, m.Kind }).IsUnique();
    }
}

internal sealed class MailSettingsConfiguration : IEntityTypeConfiguration<MailSettings>
{
    public void Configure(EntityTypeBuilder<MailSettings> builder)
    {
        builder.ToTable("MailSettings");
        builder.HasKey(s => s.Id);
        builder.Property(s => s.Id).ValueGeneratedNever();
        builder.Property(s => s.Host).HasMaxLength(TextRules.ShortText);
        builder.Property(s => s.User).HasMaxLength(TextRules.ShortText);
        builder.Property(s => s.SenderName).HasMaxLength(TextRules.Name);
        builder.Property(s => s.SenderAddress).HasMaxLength(MailAddresses.Longest);
        builder.Property(s => s.ReplyTo).HasMaxLength(MailAddresses.Longest);
    }
}

internal sealed class MessageChoicesConfiguration : IEntityTypeConfiguration<MessageChoices>
{
    public void Configure(EntityTypeBuilder<MessageChoices> builder)
    {
        builder.ToTable("MessageChoices");
        builder.HasKey(c => c.Id);
        builder.Property(c => c.Id).ValueGeneratedNever();
        builder.Property(c => c.Refused).HasJsonConversion();
    }
}

internal sealed class MessageTemplateEditionConfiguration : IEntityTypeConfiguration<MessageTemplateEdition>
{
    public void Configure(EntityTypeBuilder<MessageTemplateEdition> builder)
    {
        builder.ToTable("MessageTemplates");
        builder.HasKey(t => new
        {
            t.Kind,
            t.Language,
            t.Edition,
        });
        builder.Property(t => t.Edition).ValueGeneratedNever();
        builder.Property(t => t.Language).HasMaxLength(8);
        builder.Property(t => t.Subject).HasMaxLength(MessageWriting.LongestSubject);
        builder.Property(t => t.Body).HasMaxLength(MessageWriting.LongestBody);
    }
}
